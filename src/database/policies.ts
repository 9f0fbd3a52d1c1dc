import type { Policy } from "../rules/policy/policy.ts";
import type { Database, Transaction } from "./client.ts";

/** A policy of a sale as it was decided; the newest version holds. */
export interface PolicyRead {
  version: number;
  policy: Policy;
  reason: string;
  at: Date;
  /** Empty for what held before there were policies. */
  byName: string;
}

/** Every version of a sale's policy, the newest first. */
export async function policiesOf(
  db: Database | Transaction,
  saleId: string,
): Promise<PolicyRead[]> {
  const rows = await db.salePolicy.findMany({ where: { saleId }, orderBy: { version: "desc" } });
  const ids = rows.flatMap(({ byId }) => byId ?? []);
  const people = await db.member.findMany({ where: { id: { in: ids } } });
  const names = new Map(people.map(({ id, name }) => [id, name]));
  return rows.map(({ version, policy, reason, at, byId }) => ({
    ...{ version, reason, at, byName: names.get(byId ?? "") ?? "" },
    policy: policy as unknown as Policy,
  }));
}

/** The policy that holds; throws for a sale without one, which cannot be. */
export async function policyOf(
  db: Database | Transaction,
  saleId: string,
): Promise<{ version: number; policy: Policy }> {
  const row = await db.salePolicy.findFirst({ where: { saleId }, orderBy: { version: "desc" } });
  if (!row) throw new Error(`The sale ${saleId} has no policy.`);
  return { version: row.version, policy: row.policy as unknown as Policy };
}
