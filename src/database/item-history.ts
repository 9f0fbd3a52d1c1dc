import type { Transaction } from "./client.ts";

/** One thing that happened to an item: a movement of pieces, or a piece turned away. */
export interface ItemEvent {
  kind: string;
  quantity: number;
  reason: string;
  at: Date;
}

/** What happened to an item, the latest first. */
export async function itemHistory(db: Transaction, itemId: string): Promise<ItemEvent[]> {
  const select = { quantity: true, reason: true, at: true } as const;
  const movements = await db.movement.findMany({
    where: { itemId },
    select: { ...select, kind: true },
    orderBy: { id: "desc" },
    take: 200,
  });
  const turnedAway = await db.checkIn.findMany({
    where: { itemId, decision: "turned-away" },
    select,
    orderBy: { id: "desc" },
    take: 50,
  });
  const events = [...movements, ...turnedAway.map((row) => ({ ...row, kind: "turned-away" }))];
  return events.sort((one, other) => other.at.getTime() - one.at.getTime());
}

/** How many entries, pieces and smallest coins a member has in a sale, withdrawn ones left out. */
export async function entryTotals(db: Transaction, saleId: string, memberId: string) {
  const [row] = await db.$queryRaw<{ items: number; pieces: number; worth: bigint }[]>`
    SELECT count(*)::integer AS items, coalesce(sum(quantity), 0)::integer AS pieces,
      coalesce(sum(price * quantity), 0)::bigint AS worth
    FROM item WHERE sale_id = ${saleId}::uuid AND member_id = ${memberId}::uuid AND withdrawn_at IS NULL`;
  return { items: row?.items ?? 0, pieces: row?.pieces ?? 0, worth: Number(row?.worth ?? 0) };
}
