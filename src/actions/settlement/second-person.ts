import { v7 } from "uuid";
import type { Transaction } from "../../database/client.ts";
import type { SettlementPreview } from "../../database/settlement-preview.ts";

/** Who settles, and who agreed to it; `waits` as long as a second person is missing. */
export type Agreed = { waits: boolean; byId: string; approvedById: string | null };

/**
 * Above the guild's limit one person proposes and another one settles exactly those figures. The
 * proposal names them by their fingerprint: when anything changes, it has to be proposed again.
 */
export async function secondPerson(
  tx: Transaction,
  actorId: string,
  saleId: string,
  { net, fingerprint }: SettlementPreview,
): Promise<Agreed> {
  const { secondPersonAbove } = await tx.guild.findFirstOrThrow();
  const alone = { waits: false, byId: actorId, approvedById: null };
  if (secondPersonAbove === null || BigInt(net) <= secondPersonAbove) return alone;
  const proposals = await tx.settlementProposal.findMany({ where: { saleId, fingerprint } });
  const other = proposals.find(({ byId }) => byId !== actorId);
  if (other) return { waits: false, byId: other.byId, approvedById: actorId };
  if (proposals.length === 0)
    await tx.settlementProposal.create({
      data: { id: v7(), saleId, fingerprint, net: BigInt(net), byId: actorId },
    });
  return { waits: true, byId: actorId, approvedById: null };
}
