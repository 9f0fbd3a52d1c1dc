import type { Database } from "./client.ts";
import { anywhere } from "./search.ts";

export interface AdjustmentRead {
  id: string;
  saleId: string;
  memberNumber: number;
  memberName: string;
  /** In smallest coins; above zero for the member. */
  amount: number;
  reason: string;
  by: string;
  at: Date;
  /** Null until a settlement takes it up. */
  statementNumber: number | null;
  takesBackId: string | null;
  takenBack: boolean;
}

type Row = Omit<AdjustmentRead, "amount"> & { amount: bigint };

export interface AdjustmentSearch {
  q?: string | undefined;
  /** The id of the last one seen. */
  after?: string | undefined;
  limit: number;
}

/** Adjustments of a sale, the newest first. Finds parts of names and reasons, and whole numbers. */
export async function listAdjustments(db: Database, saleId: string, search: AdjustmentSearch) {
  const { q = "", after = null, limit } = search;
  const number = /^\d{1,4}$/.test(q) ? Number(q) : 0;
  const rows = await db.$queryRaw<Row[]>`
    SELECT a.id, a.sale_id AS "saleId", m.number AS "memberNumber", m.name AS "memberName", a.amount, a.reason,
      coalesce(b.name, '') AS by, a.at, t.number AS "statementNumber", a.takes_back_id AS "takesBackId",
      o.id IS NOT NULL AS "takenBack"
    FROM adjustment a JOIN member m ON m.id = a.member_id LEFT JOIN member b ON b.id = a.by_id
    LEFT JOIN adjustment o ON o.takes_back_id = a.id
    LEFT JOIN statement_item i ON i.adjustment_id = a.id LEFT JOIN statement t ON t.id = i.statement_id
    WHERE a.sale_id = ${saleId}::uuid
      AND (${q} = '' OR m.number = ${number} OR m.name ILIKE ${anywhere(q)} OR a.reason ILIKE ${anywhere(q)})
      AND (${after}::uuid IS NULL OR a.id < ${after}::uuid)
    ORDER BY a.id DESC LIMIT ${limit + 1}`;
  const items = rows.slice(0, limit).map((row) => ({ ...row, amount: Number(row.amount) }));
  const next = rows.length > limit ? (items.at(-1)?.id ?? null) : null;
  return { items: items satisfies AdjustmentRead[], next };
}
