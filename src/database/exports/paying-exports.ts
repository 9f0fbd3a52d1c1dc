import { Prisma } from "../generated/client.ts";
import { type CsvExport, column } from "./csv-export.ts";

const whose = [
  column("statement", "Statement", "count"),
  column("memberNumber", "Member number", "count"),
  column("member", "Member"),
];

const statements: CsvExport = {
  name: "statements",
  title: "Statements",
  words: "One row for each member's statement: what sold, what came off, what is to be paid.",
  columns: [
    column("settlement", "Settlement", "count"),
    ...whose,
    column("settledAt", "Settled at", "moment"),
    column("gross", "Sold for", "money"),
    column("guildShare", "Guild share", "money"),
    column("cardFee", "Card fee", "money"),
    column("fees", "Fees", "money"),
    column("losses", "Missing pieces made good", "money"),
    column("adjustments", "Adjustments", "money"),
    column("net", "Net", "money"),
    column("carried", "Carried over", "money"),
    column("due", "To be paid", "money"),
    column("payMethod", "To be paid by"),
  ],
  query: (saleId) => Prisma.sql`
    SELECT e.number AS settlement, s.number AS statement, m.number AS "memberNumber", m.name AS member,
      e.at AS "settledAt", s.gross, s.guild_share AS "guildShare", s.card_fee AS "cardFee", s.fees,
      s.losses, s.adjustments, s.net, s.carried, s.due, s.pay_method AS "payMethod"
    FROM statement s JOIN settlement e ON e.id = s.settlement_id JOIN member m ON m.id = s.member_id
    WHERE e.sale_id = ${saleId}::uuid ORDER BY s.number`,
};

const statementLines: CsvExport = {
  name: "statement-lines",
  title: "Lines of statements",
  words: "The sold pieces as the statements show them, with the guild's percentage of each.",
  columns: [
    ...whose,
    column("position", "Line", "count"),
    column("soldAt", "Sold at", "moment"),
    column("tag", "Tag"),
    column("description", "Description"),
    column("quantity", "Quantity", "count"),
    column("amount", "Amount", "money"),
    column("rate", "Guild percentage", "percent"),
    column("guildShare", "Guild share", "money"),
    column("cardFee", "Card fee", "money"),
    column("net", "Net", "money"),
    column("donated", "Given to the guild", "yes"),
    column("ground", "Why this percentage"),
  ],
  query: (saleId) => Prisma.sql`
    SELECT s.number AS statement, m.number AS "memberNumber", m.name AS member, l.position,
      l.sold_at AS "soldAt", l.tag, l.description, l.quantity, l.amount, l.rate,
      l.guild_share AS "guildShare", l.card_fee AS "cardFee", l.net, l.donated, l.ground
    FROM statement_line l JOIN statement s ON s.id = l.statement_id
    JOIN settlement e ON e.id = s.settlement_id JOIN member m ON m.id = s.member_id
    WHERE e.sale_id = ${saleId}::uuid ORDER BY s.number, l.position`,
};

const statementItems: CsvExport = {
  name: "statement-items",
  title: "Fees and adjustments on statements",
  words: "What statements say beside their sold pieces, with the reasons.",
  columns: [
    ...whose,
    column("position", "Line", "count"),
    column("kind", "Kind"),
    column("words", "Words"),
    column("count", "Count", "count"),
    column("amount", "Amount for the member", "money"),
  ],
  query: (saleId) => Prisma.sql`
    SELECT s.number AS statement, m.number AS "memberNumber", m.name AS member, l.position, l.kind,
      l.words, l.count, l.amount
    FROM statement_item l JOIN statement s ON s.id = l.statement_id
    JOIN settlement e ON e.id = s.settlement_id JOIN member m ON m.id = s.member_id
    WHERE e.sale_id = ${saleId}::uuid ORDER BY s.number, l.position`,
};

const payouts: CsvExport = {
  name: "payouts",
  title: "Payouts",
  words: "What was paid to whom and how, with the payouts that were taken back.",
  columns: [
    ...whose,
    column("attempt", "Try", "count"),
    column("paidOn", "Paid on", "day"),
    column("method", "Paid by"),
    column("reference", "Reference"),
    column("amount", "Amount", "money"),
    column("recorded", "Recorded at", "moment"),
    column("voidedAt", "Taken back at", "moment"),
    column("voidReason", "Why taken back"),
  ],
  query: (saleId) => Prisma.sql`
    SELECT s.number AS statement, m.number AS "memberNumber", m.name AS member, p.attempt,
      p.paid_on AS "paidOn", p.method, p.reference, p.amount, p.at AS recorded, v.at AS "voidedAt",
      v.reason AS "voidReason"
    FROM payout p JOIN statement s ON s.id = p.statement_id JOIN settlement e ON e.id = s.settlement_id
    JOIN member m ON m.id = s.member_id LEFT JOIN payout_void v ON v.payout_id = p.id
    WHERE e.sale_id = ${saleId}::uuid ORDER BY s.number, p.attempt`,
};

export const payingExports = [statements, statementLines, statementItems, payouts];
