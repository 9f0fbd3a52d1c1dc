import { groupBy } from "../rules/group-by.ts";
import type { Fee } from "../rules/policy/fees.ts";
import type { OpenAdjustment, SettledBefore } from "../rules/policy/run.ts";
import type { Transaction } from "./client.ts";

interface FeeOrLoss {
  memberId: string;
  kind: string;
  itemId: string | null;
  amount: bigint;
}

/** What the statements of a sale hold already, by member. */
export async function settledBefore(
  db: Transaction,
  saleId: string,
): Promise<Map<string, SettledBefore>> {
  const shares = await db.$queryRaw<{ memberId: string; share: bigint }[]>`
    SELECT s.member_id AS "memberId", sum(s.guild_share)::bigint AS share
    FROM statement s JOIN settlement e ON e.id = s.settlement_id
    WHERE e.sale_id = ${saleId}::uuid GROUP BY s.member_id`;
  const items = await db.$queryRaw<FeeOrLoss[]>`
    SELECT s.member_id AS "memberId", i.kind, i.item_id AS "itemId", sum(i.amount)::bigint AS amount
    FROM statement_item i JOIN statement s ON s.id = i.statement_id JOIN settlement e ON e.id = s.settlement_id
    WHERE e.sale_id = ${saleId}::uuid AND i.kind NOT IN ('adjustment', 'share-correction')
    GROUP BY s.member_id, i.kind, i.item_id`;
  const byMember = groupBy(items, ({ memberId }) => memberId);
  return new Map(
    shares.map(({ memberId, share }) => {
      const own = byMember.get(memberId) ?? [];
      return [memberId, { guildShare: Number(share), ...feesAndLosses(own) }];
    }),
  );
}

const feesAndLosses = (own: readonly FeeOrLoss[]) => ({
  fees: new Map(
    own
      .filter(({ kind }) => kind !== "loss")
      .map(({ kind, amount }) => [kind as Fee["kind"], 0 - Number(amount)]),
  ),
  losses: new Map(
    own
      .filter(({ kind }) => kind === "loss")
      .map(({ itemId, amount }) => [itemId ?? "", Number(amount)]),
  ),
});

/** Adjustments of a sale that no statement holds yet, by member, oldest first. */
export async function openAdjustments(
  db: Transaction,
  saleId: string,
): Promise<Map<string, (OpenAdjustment & { memberId: string })[]>> {
  const rows = await db.adjustment.findMany({
    where: { saleId, settled: null },
    orderBy: { id: "asc" },
  });
  const open = rows.map(({ id, memberId, amount, reason }) => ({
    ...{ adjustmentId: id, memberId, amount: Number(amount), reason },
  }));
  return groupBy(open, ({ memberId }) => memberId);
}
