import { Prisma } from "../generated/client.ts";
import { type CsvExport, column } from "./csv-export.ts";

/** "2-0017", as it stands on the receipt. */
const numberOf = (till: Prisma.Sql, receipt: Prisma.Sql) =>
  Prisma.sql`${till}.number || '-' || lpad(${receipt}.number::text, greatest(4, length(${receipt}.number::text)), '0')`;

const receiptNumber = numberOf(Prisma.sql`t`, Prisma.sql`r`);

const receipts: CsvExport = {
  name: "receipts",
  title: "Receipts",
  words: "Every receipt with its totals: sales, returns and voids.",
  columns: [
    column("receipt", "Receipt"),
    column("kind", "Kind"),
    column("made", "Made at", "moment"),
    column("recorded", "Recorded at", "moment"),
    column("cashierNumber", "Cashier number", "count"),
    column("cashier", "Cashier"),
    column("subtotal", "Subtotal", "money"),
    column("tax", "Tax", "money"),
    column("total", "Total", "money"),
    column("rounding", "Cash rounding", "money"),
    column("given", "Cash given", "money"),
    column("change", "Change", "money"),
    column("reverses", "Takes back"),
    column("exemption", "Tax certificate"),
    column("reason", "Reason"),
  ],
  query: (saleId) => Prisma.sql`
    SELECT ${receiptNumber} AS receipt, r.kind, r.made_at AS made, r.at AS recorded,
      m.number AS "cashierNumber", m.name AS cashier, r.subtotal, r.tax, r.total, r.rounding,
      r.cash_given AS given, r.change, r.exemption, r.reason,
      ${numberOf(Prisma.sql`ot`, Prisma.sql`o`)} AS reverses
    FROM receipt r JOIN till t ON t.id = r.till_id LEFT JOIN member m ON m.id = r.cashier_id
    LEFT JOIN receipt o ON o.id = r.reverses_id LEFT JOIN till ot ON ot.id = o.till_id
    WHERE r.sale_id = ${saleId}::uuid ORDER BY t.number, r.number`,
};

const receiptLines: CsvExport = {
  name: "receipt-lines",
  title: "Lines of receipts",
  words: "What was sold and taken back, piece by piece, with whose it is.",
  columns: [
    column("receipt", "Receipt"),
    column("position", "Line", "count"),
    column("made", "Made at", "moment"),
    column("kind", "Kind"),
    column("tag", "Tag"),
    column("description", "Description"),
    column("memberNumber", "Member number", "count"),
    column("member", "Member"),
    column("quantity", "Quantity", "count"),
    column("price", "Price", "money"),
    column("discount", "Discount", "money"),
    column("amount", "Amount without tax", "money"),
    column("tax", "Tax", "money"),
    column("donated", "Given to the guild", "yes"),
    column("suspended", "Was nobody's at first", "yes"),
    column("reason", "Why this price"),
  ],
  query: (saleId) => Prisma.sql`
    SELECT ${receiptNumber} AS receipt, l.position, r.made_at AS made, l.kind, l.tag, l.description,
      m.number AS "memberNumber", m.name AS member, l.quantity, l.unit_price AS price, l.discount,
      l.amount, l.tax, l.donated, l.suspended, l.price_reason AS reason
    FROM receipt_line l JOIN receipt r ON r.id = l.receipt_id JOIN till t ON t.id = r.till_id
    LEFT JOIN identified i ON i.line_id = l.id
    LEFT JOIN member m ON m.id = CASE WHEN i.line_id IS NOT NULL THEN i.member_id
      WHEN NOT l.suspended THEN l.member_id END
    WHERE r.sale_id = ${saleId}::uuid ORDER BY t.number, r.number, l.position`,
};

const tenders: CsvExport = {
  name: "tenders",
  title: "How buyers paid",
  words: "Cash, cheques and cards of every receipt, to compare with bank and card terminal.",
  columns: [
    column("receipt", "Receipt"),
    column("made", "Made at", "moment"),
    column("kind", "Paid by"),
    column("amount", "Amount", "money"),
    column("reference", "Reference"),
  ],
  query: (saleId) => Prisma.sql`
    SELECT ${receiptNumber} AS receipt, r.made_at AS made, d.kind, d.amount, d.reference
    FROM receipt_tender d JOIN receipt r ON r.id = d.receipt_id JOIN till t ON t.id = r.till_id
    WHERE r.sale_id = ${saleId}::uuid ORDER BY t.number, r.number, d.id`,
};

export const tillExports = [receipts, receiptLines, tenders];
