import type { PayoutMethod } from "../rules/statement.ts";
import type { Database } from "./client.ts";

export interface PayoutRow {
  id: string;
  attempt: number;
  method: PayoutMethod;
  reference: string;
  amount: number;
  /** The day of the payment, as "2026-12-05". */
  paidOn: string;
  voidedBecause: string | null;
}

/** Every payout of a statement, the void ones with their reason, oldest first. */
export async function listPayouts(db: Database, statementId: string): Promise<PayoutRow[]> {
  const rows = await db.payout.findMany({
    where: { statementId },
    include: { voided: true },
    orderBy: { attempt: "asc" },
  });
  return rows.map(({ id, attempt, method, reference, amount, paidOn, voided }) => ({
    id,
    attempt,
    method: method as PayoutMethod,
    reference,
    amount: Number(amount),
    paidOn: paidOn.toISOString().slice(0, 10),
    voidedBecause: voided?.reason ?? null,
  }));
}
