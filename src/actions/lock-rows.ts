import type { Transaction } from "../database/client.ts";
import { findSale, type SaleRead } from "../database/sales.ts";
import { ok, type Result, refuse } from "../rules/problem.ts";

/**
 * Rows are always locked in this order: sale, member, items. Whoever needs two of them meets the
 * others in the queue instead of in a deadlock.
 */

/** The sale, whose stage cannot move on while the deed is being done. Others may share the lock. */
export async function shareSale(tx: Transaction, saleId: string): Promise<Result<SaleRead>> {
  await tx.$queryRaw`SELECT 1 FROM sale WHERE id = ${saleId}::uuid FOR SHARE`;
  const sale = await findSale(tx, saleId);
  return sale ? ok(sale) : refuse("not-found", "There is no such sale. Nothing was recorded.");
}

/** The member, whose item numbers and limits nobody else counts meanwhile. */
export async function lockMember(tx: Transaction, memberId: string) {
  await tx.$queryRaw`SELECT 1 FROM member WHERE id = ${memberId}::uuid FOR NO KEY UPDATE`;
  return tx.member.findUniqueOrThrow({ where: { id: memberId } });
}

export interface LockedItem {
  id: string;
  saleId: string;
  memberId: string;
  tag: string;
  description: string;
  version: number;
  withdrawnAt: Date | null;
  entered: number;
  withMember: number;
  onFloor: number;
  withBuyer: number;
  withGuild: number;
  lost: number;
}

/** Items by tag, with their counts: neither the desk nor a till moves a piece until this deed ends. */
export const lockItems = (tx: Transaction, tags: readonly string[]): Promise<LockedItem[]> =>
  tx.$queryRaw<LockedItem[]>`
    SELECT i.id, i.sale_id AS "saleId", i.member_id AS "memberId", i.tag, i.description, i.version,
      i.withdrawn_at AS "withdrawnAt", c.entered, c.with_member AS "withMember",
      c.on_floor AS "onFloor", c.with_buyer AS "withBuyer",
      c.with_guild AS "withGuild", c.lost
    FROM item i JOIN item_count c ON c.item_id = i.id
    WHERE i.tag = ANY(${[...tags]}) ORDER BY i.id FOR NO KEY UPDATE`;

export async function lockItem(tx: Transaction, tag: string): Promise<LockedItem> {
  const [item] = await lockItems(tx, [tag]);
  if (!item) throw new Error(`The item with the tag ${tag} is gone, and items never go.`);
  return item;
}
