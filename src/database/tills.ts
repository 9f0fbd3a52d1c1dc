import type { Stage } from "../rules/sale-stage.ts";
import type { Database } from "./client.ts";
import { Prisma } from "./generated/client.ts";

/** A till with its sale and, when it is open, since when and by whom. Times are ISO texts. */
export interface TillRead {
  id: string;
  number: number;
  name: string;
  sale: { id: string; name: string; stage: Stage };
  open: { sessionId: string; float: number; at: string; by: string } | null;
}

const tillRows = Prisma.sql`
    SELECT json_build_object('id', t.id, 'number', t.number, 'name', t.name,
      'sale', json_build_object('id', s.id, 'name', s.name, 'stage', s.stage),
      'open', CASE WHEN o.id IS NOT NULL THEN json_build_object('sessionId', o.id,
        'float', o.float, 'at', o.opened_at, 'by', m.name) END) AS till
    FROM till t JOIN sale s ON s.id = t.sale_id
      LEFT JOIN till_session o ON o.till_id = t.id AND o.closed_at IS NULL
      LEFT JOIN member m ON m.id = o.opened_by_id`;

interface Row {
  till: TillRead;
}

/** One till, or undefined. */
export async function readTill(db: Database, tillId: string): Promise<TillRead | undefined> {
  const rows = await db.$queryRaw<Row[]>`${tillRows}
    WHERE t.id = ${tillId}::uuid`;
  return rows[0]?.till;
}

/** The tills of the sales that sell or take goods back now, in the order of the sales' days. */
export async function workingTills(db: Database): Promise<TillRead[]> {
  const rows = await db.$queryRaw<Row[]>`${tillRows}
    WHERE s.stage IN ('selling', 'settling') ORDER BY s.first_day DESC, s.id, t.number`;
  return rows.map(({ till }) => till);
}

/** The tills of one sale that are open now: where money for a return can come from. */
export const openTillsOf = async (db: Database, saleId: string): Promise<TillRead[]> =>
  (await workingTills(db)).filter(({ sale, open }) => sale.id === saleId && open !== null);
