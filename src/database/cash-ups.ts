import type { TenderKind } from "../rules/tender.ts";
import type { Database } from "./client.ts";

export interface CashUpRead {
  tillNumber: number;
  saleId: string;
  sale: string;
  float: number;
  expected: number;
  counted: number;
  difference: number;
  by: string;
  witness: string;
  note: string;
  at: string;
  /** What was taken less what went back, by tender, while the till was open. */
  tenders: { kind: TenderKind | "exchange"; count: number; amount: number }[];
}

/** The cash-up of one session; undefined when there is none. */
export async function readCashUp(db: Database, sessionId: string): Promise<CashUpRead | undefined> {
  const rows = await db.$queryRaw<{ found: CashUpRead }[]>`
    SELECT json_build_object('tillNumber', t.number, 'saleId', s.id, 'sale', s.name, 'float', o.float,
      'expected', c.expected, 'counted', c.counted, 'difference', c.difference, 'by', m.name,
      'witness', c.witness, 'note', c.note, 'at', c.at,
      'tenders', (SELECT coalesce(json_agg(sums ORDER BY sums.kind), '[]') FROM (
        SELECT d.kind, count(*) AS count, sum(d.amount) AS amount
        FROM receipt r JOIN receipt_tender d ON d.receipt_id = r.id
        WHERE r.till_session_id = o.id GROUP BY d.kind) sums)) AS found
    FROM cash_up c JOIN till_session o ON o.id = c.till_session_id JOIN till t ON t.id = o.till_id
      JOIN sale s ON s.id = t.sale_id JOIN member m ON m.id = c.by_id
    WHERE c.till_session_id = ${sessionId}::uuid`;
  return rows[0]?.found;
}
