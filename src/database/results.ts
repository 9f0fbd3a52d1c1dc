import { total } from "../rules/money.ts";
import type { Stage } from "../rules/sale-stage.ts";
import type { Database } from "./client.ts";
import { previewMember } from "./settlement-preview.ts";

export interface SaleResult {
  saleId: string;
  saleName: string;
  firstDay: string;
  lastDay: string;
  stage: Stage;
  /** Pieces that the member entered, and those that are with a buyer. */
  entered: number;
  sold: number;
  /** Settled lines as settled, the others as they would be settled now. */
  gross: number;
  guildShare: number;
  net: number;
  statements: StatementResult[];
}

/** `left` is what a statement does not pay: held for the next one, or owed to the guild. */
export interface StatementResult {
  id: string;
  number: number;
  net: number;
  due: number;
  left: number;
  paid: boolean;
}

interface Row extends Omit<SaleResult, "firstDay" | "lastDay" | "gross" | "guildShare" | "net"> {
  firstDay: Date;
  lastDay: Date;
}

/** A member's sales, the newest first: what was entered, what sold, what it brings. Nobody else's. */
export async function resultsOf(db: Database, memberId: string): Promise<SaleResult[]> {
  const sales = await db.$queryRaw<Omit<Row, "statements">[]>`
    SELECT s.id AS "saleId", s.name AS "saleName", s.first_day AS "firstDay", s.last_day AS "lastDay", s.stage,
      sum(i.quantity)::integer AS entered, sum(c.with_buyer)::integer AS sold
    FROM item i JOIN item_count c ON c.item_id = i.id JOIN sale s ON s.id = i.sale_id
    WHERE i.member_id = ${memberId}::uuid AND i.withdrawn_at IS NULL
    GROUP BY s.id ORDER BY s.first_day DESC, s.id DESC`;
  const statements = await db.statement.findMany({
    where: { memberId },
    include: { settlement: true, payouts: { where: { voided: null } } },
    orderBy: { number: "asc" },
  });
  const results = sales.map(async (sale) => {
    const own = statements.filter(({ settlement }) => settlement.saleId === sale.saleId);
    // A sale closes only when every line stands on a statement.
    const open =
      sale.stage === "closed" ? undefined : await previewMember(db, sale.saleId, memberId);
    const sum = (figure: "gross" | "guildShare" | "net") =>
      total([...own.map((one) => Number(one[figure])), open?.[figure] ?? 0]);
    return {
      ...sale,
      firstDay: sale.firstDay.toISOString().slice(0, 10),
      lastDay: sale.lastDay.toISOString().slice(0, 10),
      gross: sum("gross"),
      guildShare: sum("guildShare"),
      net: sum("net"),
      statements: own.map(({ id, number, net, carried, due, payouts }) => ({
        ...{ id, number, net: Number(net), due: Number(due), left: Number(net + carried - due) },
        paid: payouts.length > 0,
      })),
    };
  });
  return Promise.all(results);
}

/**
 * What is settled and not paid out yet, with what the newest statement holds; below zero when the
 * member owes the guild.
 */
export function owedBy(results: readonly SaleResult[]): number {
  const all = results.flatMap(({ statements }) => statements);
  const newest = all.toSorted((one, other) => one.number - other.number).at(-1);
  const unpaid = all.filter(({ paid }) => !paid).map(({ due }) => due);
  return total([...unpaid, newest?.left ?? 0]);
}

export interface SoldPiece {
  /** The receipt line, and the cursor of the list. */
  id: string;
  at: Date;
  tag: string;
  description: string;
  quantity: number;
  amount: number;
  donated: boolean;
}

/** What a member sold in a sale and when, the newest first, a page at a time. */
export async function listSoldPieces(
  db: Database,
  which: { memberId: string; saleId: string },
  { after, limit }: { after?: string | undefined; limit: number },
): Promise<{ items: SoldPiece[]; next: string | null }> {
  const last = after ?? null;
  const rows = await db.$queryRaw<(Omit<SoldPiece, "amount"> & { amount: bigint })[]>`
    SELECT l.id, r.at, l.tag, l.description, l.quantity, l.amount, l.donated
    FROM credited_line l JOIN receipt r ON r.id = l.receipt_id
    WHERE l.member_id = ${which.memberId}::uuid AND r.sale_id = ${which.saleId}::uuid
      AND (${last}::uuid IS NULL OR (r.at, l.id) < (SELECT q.at, k.id FROM receipt_line k
        JOIN receipt q ON q.id = k.receipt_id WHERE k.id = ${last}::uuid AND k.member_id = ${which.memberId}::uuid))
    ORDER BY r.at DESC, l.id DESC LIMIT ${limit + 1}`;
  const items = rows.slice(0, limit).map((row) => ({ ...row, amount: Number(row.amount) }));
  return { items, next: rows.length > limit ? (items.at(-1)?.id ?? null) : null };
}
