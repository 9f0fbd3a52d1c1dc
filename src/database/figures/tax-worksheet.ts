import { share } from "../../rules/money.ts";
import type { Transaction } from "../client.ts";

/** One sale, or every receipt made from one moment to another (the end itself is outside). */
export type TaxScope = { saleId: string } | { from: Date; to: Date };

/** One tax at one rate; amounts in smallest coins, before tax. */
export interface TaxRow {
  code: string;
  name: string;
  rate: number;
  /** Sold at sales that have this tax; gifts of money are no sales. */
  gross: number;
  /** To buyers with a certificate. */
  exemptBuyers: number;
  /** Goods that a rule of the tax leaves out, wholly or up to a price. */
  exemptByRule: number;
  taxable: number;
  /** What was taken at the tills, receipt by receipt. */
  taken: number;
  /** What the rate gives on the taxable total, rounded once. */
  byRate: number;
  /** Taken less that: what rounding each receipt or line made of it. */
  difference: number;
}

export interface TaxWorksheet {
  rows: TaxRow[];
  /** Sold at sales without any tax. */
  withoutTax: number;
  /** What the accounts of the taxes say, by code, beside what was taken. */
  ties: { code: string; taken: number; booked: number }[];
  agrees: boolean;
}

export async function taxWorksheet(db: Transaction, scope: TaxScope): Promise<TaxWorksheet> {
  const rows = await rowsOf(db, scope);
  const ties = tieUp(rows, await bookedOf(db, scope));
  const agrees = ties.every(({ taken, booked }) => taken === booked);
  return { rows, withoutTax: await withoutTaxOf(db, scope), ties, agrees };
}

/** Both halves of a scope as parameters; the half that is not asked for is null. */
const ends = (scope: TaxScope) =>
  "saleId" in scope
    ? { saleId: scope.saleId, from: null, to: null }
    : { saleId: null, from: scope.from, to: scope.to };

/**
 * A receipt that a tax left out altogether has no row of it, so the taxes of its sale stand in: the
 * goods were looked at all the same.
 */
async function rowsOf(db: Transaction, scope: TaxScope): Promise<TaxRow[]> {
  type Row = { code: string; name: string; rate: number } & Record<
    "gross" | "exemptBuyers" | "taxable" | "taken",
    bigint
  >;
  const { saleId, from, to } = ends(scope);
  const rows = await db.$queryRaw<Row[]>`
    WITH sold AS (
      SELECT r.id, r.sale_id, r.exemption <> '' AS exempt, coalesce(sum(l.amount) FILTER (WHERE l.kind <> 'donation'), 0) AS amount
      FROM receipt r JOIN receipt_line l ON l.receipt_id = r.id
      WHERE (${saleId}::uuid IS NULL OR r.sale_id = ${saleId}::uuid)
        AND (${from}::timestamptz IS NULL OR (r.made_at >= ${from}::timestamptz AND r.made_at < ${to}::timestamptz))
      GROUP BY r.id),
    looked AS (
      SELECT s.id, s.exempt, s.amount, c.code, c.name, c.rate
      FROM sold s JOIN sale a ON a.id = s.sale_id
      CROSS JOIN LATERAL jsonb_to_recordset(a.tax_rules -> 'components') AS c(code text, name text, rate integer)
      UNION SELECT s.id, s.exempt, s.amount, x.code, x.name, x.rate FROM sold s JOIN receipt_tax x ON x.receipt_id = s.id
      JOIN sale a ON a.id = s.sale_id
      WHERE NOT a.tax_rules -> 'components' @> jsonb_build_array(jsonb_build_object('code', x.code)))
    SELECT l.code, max(coalesce(x.name, l.name)) AS name, coalesce(x.rate, l.rate) AS rate, sum(l.amount)::bigint AS gross,
      coalesce(sum(l.amount) FILTER (WHERE l.exempt), 0)::bigint AS "exemptBuyers",
      coalesce(sum(x.base), 0)::bigint AS taxable, coalesce(sum(x.tax), 0)::bigint AS taken
    FROM looked l LEFT JOIN receipt_tax x ON x.receipt_id = l.id AND x.code = l.code
    GROUP BY l.code, coalesce(x.rate, l.rate) ORDER BY 1, 3`;
  return rows.map(({ code, name, rate, ...sums }) => {
    const gross = Number(sums.gross);
    const exemptBuyers = Number(sums.exemptBuyers);
    const taxable = Number(sums.taxable);
    const taken = Number(sums.taken);
    const byRate = share(taxable, rate);
    const exemptByRule = gross - exemptBuyers - taxable;
    const found = { gross, exemptBuyers, exemptByRule, taxable, taken, byRate };
    return { code, name, rate, ...found, difference: taken - byRate };
  });
}

async function withoutTaxOf(db: Transaction, scope: TaxScope): Promise<number> {
  const { saleId, from, to } = ends(scope);
  const [row] = await db.$queryRaw<[{ amount: bigint }]>`
    SELECT coalesce(sum(l.amount), 0)::bigint AS amount FROM receipt r JOIN receipt_line l ON l.receipt_id = r.id
    WHERE (${saleId}::uuid IS NULL OR r.sale_id = ${saleId}::uuid)
      AND (${from}::timestamptz IS NULL OR (r.made_at >= ${from}::timestamptz AND r.made_at < ${to}::timestamptz))
      AND l.kind <> 'donation' AND NOT EXISTS (SELECT 1 FROM receipt_tax x WHERE x.receipt_id = r.id)
      AND EXISTS (SELECT 1 FROM sale a WHERE a.id = r.sale_id AND jsonb_array_length(a.tax_rules -> 'components') = 0)`;
  return Number(row.amount);
}

/** Of a sale all that stands on the accounts; of a span of days what its receipts put there. */
async function bookedOf(db: Transaction, scope: TaxScope): Promise<Map<string, number>> {
  const { saleId, from, to } = ends(scope);
  const rows = await db.$queryRaw<{ code: string; booked: bigint }[]>`
    SELECT substr(p.account_key, 5) AS code, -sum(p.amount)::bigint AS booked
    FROM posting p JOIN journal_entry e ON e.id = p.entry_id
    LEFT JOIN receipt r ON e.kind = 'receipt' AND r.id = e.subject_id
    WHERE p.account_key LIKE 'tax/%' AND (${saleId}::uuid IS NULL OR e.sale_id = ${saleId}::uuid)
      AND (${from}::timestamptz IS NULL OR (r.made_at >= ${from}::timestamptz AND r.made_at < ${to}::timestamptz))
    GROUP BY p.account_key ORDER BY p.account_key`;
  return new Map(rows.map(({ code, booked }) => [code, Number(booked)]));
}

function tieUp(rows: readonly TaxRow[], booked: ReadonlyMap<string, number>) {
  const codes = [...new Set([...rows.map(({ code }) => code), ...booked.keys()])];
  return codes.map((code) => ({
    code,
    taken: rows.reduce((sum, row) => (row.code === code ? sum + row.taken : sum), 0),
    booked: booked.get(code) ?? 0,
  }));
}
