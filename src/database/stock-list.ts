import type { Transaction } from "./client.ts";
import { listItems, type ShownItem } from "./items.ts";
import { findSale } from "./sales.ts";

/** More than anybody can enter: the list is printed whole. */
const all = { limit: 100_000 };

/** A member's entries of a sale, withdrawn ones left out, with what stands at their head. */
export async function stockListOf(
  db: Transaction,
  { saleId, memberId }: { saleId: string; memberId: string },
) {
  const sale = await findSale(db, saleId);
  if (!sale) return undefined;
  const guild = await db.guild.findFirstOrThrow();
  const member = await db.member.findUniqueOrThrow({ where: { id: memberId } });
  const { items } = await listItems(db, { saleId, memberId }, all);
  const standing = items.filter(({ withdrawnAt }: ShownItem) => withdrawnAt === null);
  return { guild, sale, member, items: standing };
}
