import type { DiscrepancyRead } from "../../database/discrepancies.ts";
import type { failedMails } from "../../database/receipt-mails.ts";
import type { SaleRead } from "../../database/sales.ts";
import type { SettlementRow } from "../../database/settlements.ts";
import type { Takings } from "../../database/takings.ts";
import { momentText } from "../../rules/moment.ts";
import { allows } from "../../rules/sale-stage.ts";
import { tenderWords } from "../../rules/tender.ts";
import { daysText } from "../format.ts";
import { wordsOf } from "./discrepancy-words.ts";
import { type GuildWords, salePlaces } from "./scene.ts";

interface Parts {
  sale: SaleRead;
  guild: GuildWords;
  takings: Takings;
  settlements: SettlementRow[];
  openTills: { id: string; number: number; name: string }[];
  discrepancies: DiscrepancyRead[];
  mails: Awaited<ReturnType<typeof failedMails>>;
}

/** One sale's books at a glance: what was taken, whose it is, and what is still to be done. */
export function salePage(parts: Parts) {
  const { sale, guild, takings, settlements, openTills, discrepancies, mails } = parts;
  const when = (at: Date | string) => momentText(new Date(at), guild.locale, guild.timeZone);
  return {
    title: `Books of ${sale.name}`,
    sale,
    places: salePlaces(sale.id),
    when: daysText(sale.firstDay, sale.lastDay, guild),
    ...nextStep(sale, takings, settlements),
    figures: figuresOf(takings, guild),
    pieces: piecesOf(takings),
    tenders: takings.tenders.map(({ tillNumber, tillName, kind, amount }) => ({
      till: tillWords(tillNumber, tillName),
      kind: kind === "exchange" ? "Exchange" : tenderWords[kind as keyof typeof tenderWords],
      amount: guild.money(amount),
    })),
    taken: guild.money(takings.taken),
    money: moneyOf(takings, guild),
    suspense: takings.suspense === 0 ? "" : guild.money(takings.suspense),
    settlements: settlements.map((row) => ({
      href: `/books/settlements/${row.id}`,
      name: `Settlement ${row.number}`,
      by: `${row.byName}, ${when(row.at)}`,
      net: guild.money(row.net),
    })),
    mailsFailed: mailsWords(mails.count),
    mails: mails.newest.map(({ receiptId, name, why }) => ({
      ...{ href: `/receipts/${receiptId}`, name, why },
    })),
    openTills: openTills.map(({ number, name }) => tillWords(number, name)),
    discrepancies: discrepancies.map((row) => ({
      at: when(row.at),
      words: wordsOf(row.kind),
      href: row.receiptId ? `/receipts/${row.receiptId}` : null,
    })),
  };
}

const mailsWords = (count: number): string =>
  count === 0
    ? ""
    : `${count} ${count === 1 ? "receipt" : "receipts"} did not reach a buyer by e-mail. The addresses are deleted.`;

/** Many guilds name their tills "Till 1" and so on; that is not said twice. */
const tillWords = (number: number, name: string): string =>
  name === `Till ${number}` ? name : `Till ${number}, ${name}`;

/** Settling comes after selling; once settled, again only when something came after. */
function nextStep(sale: SaleRead, takings: Takings, settlements: SettlementRow[]) {
  const open = takings.notSettled !== 0 || settlements.length === 0;
  return { canSettle: allows(sale.stage, "settle") && open, early: !allows(sale.stage, "pay-out") };
}

const figuresOf = (takings: Takings, { money }: GuildWords) => [
  {
    label: "Taken at the tills",
    value: money(takings.taken),
    note: `${takings.receipts} receipts`,
  },
  { label: "Sold for members", value: money(takings.gross) },
  { label: "Guild share so far", value: money(takings.guildShare) },
  { label: "On members' accounts", value: money(takings.owed) },
  { label: "Paid out", value: money(takings.paidOut) },
  {
    label: "Unaccounted",
    value: money(takings.unaccounted),
    note: `${takings.pieces.unaccounted} pieces`,
  },
];

const piecesOf = ({ pieces }: Takings) => [
  { label: "With their members", value: String(pieces.withMember) },
  { label: "On the floor", value: String(pieces.onFloor) },
  { label: "Sold", value: String(pieces.withBuyer) },
  { label: "Given to the guild", value: String(pieces.withGuild) },
  { label: "Lost", value: String(pieces.lost) },
  { label: "Entered in all", value: String(pieces.entered) },
];

/** Where the money that was taken went: the rows sum to what was taken. */
const moneyOf = (takings: Takings, { money }: GuildWords) => [
  { label: "Sales tax", value: money(takings.tax) },
  { label: "Given to the guild", value: money(takings.donated) },
  { label: "The guild's own goods", value: money(takings.guildGoods) },
  { label: "In suspense", value: money(takings.suspense) },
  { label: "Cash rounding", value: money(takings.rounding) },
  { label: "Guild share", value: money(takings.guildShare) },
  { label: "Card fees that members bear", value: money(takings.cardFee) },
  { label: "Fees", value: money(takings.fees) },
  { label: "Missing pieces made good", value: money(0 - takings.losses) },
  { label: "Adjustments", value: money(0 - takings.adjustments) },
  { label: "Paid out to members", value: money(takings.paidOut) },
  { label: "Still on members' accounts", value: money(takings.owed) },
];
