import type { PayoutMethod } from "../rules/statement.ts";
import type { Database, Transaction } from "./client.ts";
import { anywhere } from "./search.ts";

/** A statement that can be prepared for paying now. */
export interface ToPrepare {
  statementId: string;
  statementNumber: number;
  memberId: string;
  memberNumber: number;
  memberName: string;
  /** The name on the cheque or transfer. */
  payee: string;
  account: string;
  bank: string;
  saleName: string;
  /** The first day of its sale, before which nothing can have been paid. */
  firstDay: Date;
  amount: number;
  /** What the member wishes, or else what the settlement decided. */
  method: PayoutMethod;
}

export interface ToPrepareList {
  saleId?: string | undefined;
  /** Statements that the settlement or the member's wish gives this way of paying. */
  method?: PayoutMethod | undefined;
  ids?: readonly string[] | undefined;
  q?: string | undefined;
  /** The last statement number of the page before. */
  after?: number | undefined;
  limit: number;
}

/**
 * Statements with something due that are neither paid nor wait in a run, of sales that are being
 * settled or closed, by number and a page at a time; `next` names the last one of the page.
 */
export async function listToPrepare(
  db: Database | Transaction,
  { saleId, method, ids, q = "", after = 0, limit }: ToPrepareList,
): Promise<{ items: ToPrepare[]; next: number | null }> {
  const rows = await db.$queryRaw<(Omit<ToPrepare, "amount"> & { amount: bigint })[]>`
    SELECT s.id AS "statementId", s.number AS "statementNumber", m.id AS "memberId",
      m.number AS "memberNumber", m.name AS "memberName", coalesce(nullif(b.payee, ''), m.name) AS payee,
      coalesce(b.account, '') AS account, coalesce(b.bank, '') AS bank, a.name AS "saleName",
      a.first_day AS "firstDay", s.due AS amount, coalesce(b.pay_method, s.pay_method, 'cheque') AS method
    FROM statement s JOIN settlement e ON e.id = s.settlement_id JOIN sale a ON a.id = e.sale_id
    JOIN member m ON m.id = s.member_id LEFT JOIN member_bank b ON b.member_id = m.id
    WHERE s.due > 0 AND s.number > ${after} AND a.stage IN ('settling', 'closed')
      AND (${saleId ?? null}::uuid IS NULL OR a.id = ${saleId ?? null}::uuid)
      AND (${method ?? null}::text IS NULL OR s.pay_method = ${method ?? null}
        OR coalesce(b.pay_method, s.pay_method, 'cheque') = ${method ?? null})
      AND (${ids === undefined} OR s.id = ANY (${[...(ids ?? [])]}::uuid[]))
      AND (${q} = '' OR m.number::text = ${q} OR m.name ILIKE ${anywhere(q)})
      AND NOT EXISTS (SELECT 1 FROM paying_run_item i WHERE i.statement_id = s.id AND i.outcome IS NULL)
      AND NOT EXISTS (SELECT 1 FROM payout p WHERE p.statement_id = s.id
        AND NOT EXISTS (SELECT 1 FROM payout_void v WHERE v.payout_id = p.id))
    ORDER BY s.number LIMIT ${limit + 1}`;
  const items = rows.slice(0, limit).map((row) => ({ ...row, amount: Number(row.amount) }));
  return { items, next: rows.length > limit ? (items.at(-1)?.statementNumber ?? null) : null };
}
