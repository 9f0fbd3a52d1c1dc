import type { SaleRead } from "../../database/sales.ts";
import type { SellerRead } from "../../database/sellers.ts";
import type { PreviewLine, PreviewMember } from "../../database/settlement-preview.ts";
import { momentText } from "../../rules/moment.ts";
import type { Policy } from "../../rules/policy/policy.ts";
import { rateAnswerWords } from "../../rules/policy/rate-words.ts";
import { showTag } from "../../rules/tag-number.ts";
import { nextHref } from "../want-id.ts";
import { payWords } from "./preview-page.ts";
import type { GuildWords } from "./scene.ts";

interface Parts {
  sale: SaleRead;
  guild: GuildWords;
  policy: Policy;
  seller: SellerRead | undefined;
  /** Absent when a settlement now would say nothing to this member. */
  member: PreviewMember | undefined;
  memberId: string;
  name: string;
  /** How many lines the pages before showed. */
  after: number;
}

const linesOnPage = 50;

/** One member's part of the next settlement, with the ground of every figure. */
export function previewMemberPage(parts: Parts) {
  const { sale, guild, policy, seller, member, memberId, name, after } = parts;
  const back = `/books/${sale.id}/settlement`;
  const path = `${back}/members/${memberId}`;
  const lines = member?.lines.slice(after, after + linesOnPage) ?? [];
  const more = member && member.lines.length > after + lines.length;
  return {
    title: name,
    ...{ sale, back },
    grounds: seller ? groundsOf(seller, policy) : [],
    answer: member && `Payment: ${payWords(member, guild)}.`,
    account: member && accountOf(member, guild),
    lines: lines.map((line) => lineRow(line, guild)),
    next: nextHref(path, more ? String(after + lines.length) : null, {}),
    pageText: member ? `${after + lines.length} of ${member.lines.length} lines` : "",
    unsold: member?.unsold.map(({ tag, description, quantity, price }) => ({
      ...{ tag: showTag(tag), description, quantity },
      price: guild.money(price),
    })),
  };
}

/** What the guild's policy looks at in this member, whether it counts or not. */
function groundsOf({ seller, facts, wish }: SellerRead, policy: Policy) {
  const { classCode, visitor, committee, minutesWorked } = seller;
  const ofClass = policy.rates.classes.find(({ code }) => code === classCode);
  const hours = `${(minutesWorked - (minutesWorked % 60)) / 60} h ${minutesWorked % 60} min`;
  return [
    { label: "Sells as", value: visitor ? "A visitor" : "A member" },
    { label: "Committee", value: committee ? "Yes" : "No" },
    { label: "Class of members", value: classCode ? (ofClass?.name ?? classCode) : "None" },
    { label: "Hours worked", value: minutesWorked === 0 ? "None" : hours },
    { label: "Shifts missed", value: String(facts.shiftsMissed) },
    { label: "Items entered", value: `${facts.itemsEntered}, of them late: ${facts.itemsLate}` },
    { label: "First sale", value: facts.firstSale ? "Yes" : "No" },
    { label: "Small sums", value: wish.payAll ? "Paid too" : "Held as the guild decided" },
  ];
}

/** The account from what sold down to what is paid; every row is what the one below adds to. */
function accountOf(member: PreviewMember, { money }: GuildWords) {
  const signed = (amount: number) => ({ amount: money(amount), negative: amount < 0 });
  const row = (words: string, amount: number, sum = false) => ({ words, ...signed(amount), sum });
  const corrected = member.items.filter(({ kind }) => kind === "share-correction");
  // A correction is part of the guild's share and is told by itself.
  const share = corrected.reduce((sum, { amount }) => sum + amount, member.guildShare);
  const sold = `Sold, ${member.lines.length} ${member.lines.length === 1 ? "line" : "lines"}`;
  return [
    row(sold, member.gross),
    row("Guild percentage of these lines", 0 - share),
    ...(member.cardFee === 0 ? [] : [row("Share of the fee for cards", 0 - member.cardFee)]),
    ...member.items.map(({ words, amount }) => row(words, amount)),
    row("This settlement", member.net, true),
    ...(member.carried === 0 ? [] : [row("From the statement before", member.carried)]),
    ...(member.carried === 0 ? [] : [row("Together", member.net + member.carried, true)]),
    row("To be paid now", member.due, true),
  ];
}

function lineRow(line: PreviewLine, guild: GuildWords) {
  const [ground, ...notUsed] = rateAnswerWords(line.answer);
  return {
    at: momentText(line.soldAt, guild.locale, guild.timeZone),
    tag: showTag(line.tag),
    description: line.quantity < 0 ? `Brought back: ${line.description}` : line.description,
    quantity: line.quantity,
    amount: guild.money(line.amount),
    ...{ ground, notUsed },
    guildShare: guild.money(line.guildShare),
    cardFee: guild.money(line.cardFee),
    net: guild.money(line.net),
  };
}
