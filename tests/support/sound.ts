import { expect } from "vitest";
import { checkBooks } from "../../src/database/check-books.ts";
import type { Database } from "../../src/database/client.ts";

/**
 * What must hold after every fault: the books are sound to the last check, every receipt that was
 * acknowledged is there exactly once, and no piece was credited to its weaver more often than it left.
 */
export async function expectSound(db: Database, acknowledged: readonly string[]): Promise<void> {
  const books = await checkBooks(db);
  expect(books.checks.flatMap(({ broken }) => broken ?? [])).toEqual([]);
  expect(books.unaccounted).toEqual({ pieces: 0, money: 0 });
  const stored = await db.receipt.findMany({ where: { id: { in: [...acknowledged] } } });
  expect(stored.map(({ id }) => id).sort()).toEqual([...new Set(acknowledged)].sort());
  const oversold = await db.$queryRaw<{ tag: string }[]>`
    SELECT i.tag FROM receipt_line l JOIN item i ON i.id = l.item_id
    WHERE NOT l.suspended GROUP BY i.id HAVING sum(l.quantity) NOT BETWEEN 0 AND i.quantity`;
  expect(oversold).toEqual([]);
}
