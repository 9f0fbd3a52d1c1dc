import type { CashCount } from "../rules/denominations.ts";
import type { TenderKind } from "../rules/tender.ts";
import type { CashMoveRead } from "./cash-moves.ts";
import type { Database } from "./client.ts";

/** A cashed-up session with everything that its papers name. Times are ISO texts. */
export interface SheetRead {
  tillNumber: number;
  tillName: string;
  sale: { name: string; firstDay: string; lastDay: string };
  openedBy: string;
  openedAt: string;
  float: number;
  floatCounts: CashCount[];
  expected: number;
  counted: number;
  difference: number;
  counts: CashCount[];
  by: string;
  witness: string;
  note: string;
  at: string;
  receipts: { count: number; first: number | null; last: number | null; rounding: number };
  /** Voids and returns, with the receipt they take back where it is known. */
  corrections: {
    number: number;
    kind: "void" | "return";
    of: { till: number; number: number } | null;
    reason: string;
    total: number;
  }[];
  tenders: { kind: TenderKind | "exchange"; count: number; amount: number }[];
  cheques: { number: number; amount: number; reference: string }[];
  moves: CashMoveRead[];
}

/** The session of a cash-up; undefined when it is not cashed up. Nothing of it can change any more. */
export async function sheetOf(db: Database, sessionId: string): Promise<SheetRead | undefined> {
  const rows = await db.$queryRaw<{ sheet: SheetRead }[]>`
    SELECT json_build_object('tillNumber', t.number, 'tillName', t.name,
      'sale', json_build_object('name', s.name, 'firstDay', s.first_day, 'lastDay', s.last_day),
      'openedBy', p.name, 'openedAt', o.opened_at, 'float', o.float, 'floatCounts', o.counts,
      'expected', c.expected, 'counted', c.counted, 'difference', c.difference, 'counts', c.counts,
      'by', m.name, 'witness', c.witness, 'note', c.note, 'at', c.at,
      'receipts', (SELECT json_build_object('count', count(*), 'first', min(r.number), 'last', max(r.number),
          'rounding', coalesce(sum(r.rounding), 0)) FROM receipt r WHERE r.till_session_id = o.id),
      'corrections', (SELECT coalesce(json_agg(json_build_object('number', r.number, 'kind', r.kind,
          'of', CASE WHEN b.id IS NOT NULL THEN json_build_object('till', w.number, 'number', b.number) END,
          'reason', r.reason, 'total', r.total) ORDER BY r.number), '[]')
        FROM receipt r LEFT JOIN receipt b ON b.id = r.reverses_id LEFT JOIN till w ON w.id = b.till_id
        WHERE r.till_session_id = o.id AND r.kind <> 'sale'),
      'tenders', (SELECT coalesce(json_agg(sums ORDER BY sums.place), '[]') FROM (
        SELECT d.kind, count(DISTINCT r.id) AS count, sum(d.amount) AS amount,
          array_position(ARRAY['cash', 'cheque', 'card', 'other', 'exchange'], d.kind) AS place
        FROM receipt r JOIN receipt_tender d ON d.receipt_id = r.id
        WHERE r.till_session_id = o.id GROUP BY d.kind) sums),
      'cheques', (SELECT coalesce(json_agg(json_build_object('number', r.number, 'amount', d.amount,
          'reference', d.reference) ORDER BY r.number, d.id), '[]')
        FROM receipt r JOIN receipt_tender d ON d.receipt_id = r.id
        WHERE r.till_session_id = o.id AND d.kind = 'cheque'),
      'moves', (SELECT coalesce(json_agg(json_build_object('id', v.id, 'kind', v.kind, 'amount', v.amount,
          'counts', v.counts, 'reason', v.reason, 'by', n.name, 'at', v.at) ORDER BY v.at, v.id), '[]')
        FROM cash_move v JOIN member n ON n.id = v.by_id WHERE v.till_session_id = o.id)) AS sheet
    FROM cash_up c JOIN till_session o ON o.id = c.till_session_id JOIN till t ON t.id = o.till_id
      JOIN sale s ON s.id = t.sale_id JOIN member m ON m.id = c.by_id JOIN member p ON p.id = o.opened_by_id
    WHERE c.till_session_id = ${sessionId}::uuid`;
  return rows[0]?.sheet;
}
