import type { Transaction } from "./client.ts";

/** What stands on one account, in smallest coins; debit is positive. */
export async function balanceOf(tx: Transaction, account: string): Promise<number> {
  const sum = await tx.posting.aggregate({
    where: { accountKey: account },
    _sum: { amount: true },
  });
  return Number(sum._sum.amount ?? 0n);
}
