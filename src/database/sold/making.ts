import type { Transaction } from "../client.ts";

/** What one piece of an item took its maker, as far as that is noted. */
export interface Making {
  minutes: number | null;
  materials: number | null;
}

/** The hours and materials of a member's own item; nobody else has a way to ask for them. */
export async function makingOf(
  db: Transaction,
  which: { itemId: string; memberId: string },
): Promise<Making> {
  const { itemId, memberId } = which;
  const row = await db.itemMaking.findFirst({ where: { itemId, item: { memberId } } });
  return {
    minutes: row?.minutes ?? null,
    materials: row?.materials === null || !row ? null : Number(row.materials),
  };
}
