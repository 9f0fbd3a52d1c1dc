import type { Database } from "./client.ts";

/** Who asked for exactly these figures to be settled, if anybody did; `own` when it was the reader. */
export async function proposalOf(
  db: Database,
  saleId: string,
  fingerprint: string,
  readerId: string,
): Promise<{ byName: string; at: Date; own: boolean } | undefined> {
  const proposal = await db.settlementProposal.findFirst({ where: { saleId, fingerprint } });
  if (!proposal) return undefined;
  const { name } = await db.member.findUniqueOrThrow({ where: { id: proposal.byId } });
  return { byName: name, at: proposal.at, own: proposal.byId === readerId };
}
