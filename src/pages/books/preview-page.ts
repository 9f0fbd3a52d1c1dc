import type { SaleRead } from "../../database/sales.ts";
import type { PreviewMember, SettlementPreview } from "../../database/settlement-preview.ts";
import { momentText } from "../../rules/moment.ts";
import { rateWords } from "../../rules/policy/rate-words.ts";
import type { Problem } from "../../rules/problem.ts";
import { allows } from "../../rules/sale-stage.ts";
import { byMethod } from "../../rules/statement.ts";
import { showTag } from "../../rules/tag-number.ts";
import { nextHref } from "../want-id.ts";
import type { GuildWords } from "./scene.ts";

export interface Proposal {
  byName: string;
  at: Date;
  /** Whether the person who looks is the one who proposed. */
  own: boolean;
}

interface Parts {
  sale: SaleRead;
  guild: GuildWords;
  preview: SettlementPreview;
  /** Somebody asked for these very figures to be settled. */
  proposal: Proposal | undefined;
  /** A member's number or a part of a name; empty for everybody. */
  q: string;
  /** The last member number of the page before. */
  after: number;
  problem?: Problem;
}

const membersOnPage = 25;

/** Members whose number is what was typed, or whose name holds it. */
function membersNamed(members: readonly PreviewMember[], q: string): PreviewMember[] {
  const wanted = q.toLowerCase();
  return members.filter(
    ({ memberNumber, memberName }) =>
      String(memberNumber) === q || memberName.toLowerCase().includes(wanted),
  );
}

/** Who would be owed what, a page of members at a time; the totals are those of everybody. */
export function previewPage(parts: Parts) {
  const { sale, guild, preview, proposal, q, after, problem } = parts;
  const found = membersNamed(preview.members, q);
  const rest = found.filter(({ memberNumber }) => memberNumber > after);
  const shown = rest.slice(0, membersOnPage);
  const path = `/books/${sale.id}/settlement`;
  const last = rest.length > shown.length ? String(shown.at(-1)?.memberNumber) : null;
  return {
    title: `Settlement of ${sale.name}`,
    ...{ problem, sale, path, q },
    policy: `By version ${preview.policyVersion} of what the guild decided for this sale.`,
    policyHref: `/sales/${sale.id}/policy`,
    allowed: allows(sale.stage, "settle"),
    proposed: proposal && {
      ...{ by: proposal.byName, own: proposal.own },
      at: momentText(proposal.at, guild.locale, guild.timeZone),
    },
    fingerprint: preview.fingerprint,
    isEmpty: preview.members.every(
      ({ lines, items, due }) => !lines.length && !items.length && !due,
    ),
    people: preview.members.length,
    ...totals(preview, guild),
    members: shown.map((member) => ({
      ...memberRow(member, guild),
      href: `${path}/members/${member.memberId}`,
    })),
    next: nextHref(path, last, { q }),
    pageText: `${shown.length} of ${found.length} members`,
  };
}

/** Besides the share only what there is gets a figure of its own. */
function totals(preview: SettlementPreview, { money }: GuildWords) {
  const { gross, guildShare, cardFee, fees, losses, adjustments, net, due } = preview;
  const figures = [
    { label: "Sold for members", amount: gross, always: true },
    { label: "Guild share", amount: guildShare, always: true },
    { label: "Card fees", amount: cardFee },
    { label: "Fees", amount: fees },
    { label: "Made good", amount: losses },
    { label: "Adjustments", amount: adjustments },
    { label: "To members", amount: net, always: true },
    { label: "To pay now", amount: due, always: true },
  ];
  return {
    ...{ gross: money(gross), guildShare: money(guildShare), net: money(net), due: money(due) },
    off: money(cardFee + fees - losses - adjustments),
    figures: figures
      .filter(({ amount, always }) => always || amount !== 0)
      .map(({ label, amount }) => ({ label, value: money(amount) })),
  };
}

function memberRow(member: PreviewMember, guild: GuildWords) {
  const { money } = guild;
  const off = member.cardFee + member.fees - member.losses - member.adjustments;
  return {
    ...{ number: member.memberNumber, name: member.memberName },
    ...{ gross: money(member.gross), guildShare: money(member.guildShare), off: money(off) },
    ...{ net: money(member.net), negative: member.net < 0 },
    due: money(member.due),
    carried: member.carried === 0 ? "" : money(member.carried),
    pay: payWords(member, guild),
    donated: member.donated === 0 ? "" : money(member.donated),
    items: member.items.map(({ words, amount }) => ({ words, amount: money(amount) })),
    lines: member.lines.map((line) => lineRow(line, guild)),
  };
}

const lineRow = (line: PreviewMember["lines"][number], guild: GuildWords) => ({
  at: momentText(line.soldAt, guild.locale, guild.timeZone),
  tag: showTag(line.tag),
  description: line.quantity < 0 ? `Brought back: ${line.description}` : line.description,
  quantity: line.quantity,
  amount: guild.money(line.amount),
  ground: rateWords(line.answer.reason),
  shares: line.donated
    ? "donated, all to the guild"
    : `guild ${guild.money(line.guildShare)}, ${line.cardFee === 0 ? "" : `card fee ${guild.money(line.cardFee)}, `}member ${guild.money(line.net)}`,
});

/** How a member is paid, or why not now. */
export function payWords(
  { payout, due, net, carried }: PreviewMember,
  { money }: GuildWords,
): string {
  switch (payout.why) {
    case "paid":
      return `${money(due)} ${byMethod[payout.method ?? "cheque"]}`;
    case "nothing-due":
      return "nothing to pay";
    case "below-minimum":
      return `${money(net + carried)} is held until it reaches the guild's least payout`;
    case "owed-by-member":
      return `the member owes ${money(0 - net - carried)}, which is carried on`;
  }
}
