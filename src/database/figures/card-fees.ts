import type { Transaction } from "../client.ts";

/**
 * The fees for cards of a sale, as the standing card totals say; null when none is typed in, so
 * that nobody takes "not known yet" for "no fee".
 */
export async function cardFeesOf(tx: Transaction, saleId: string): Promise<number | null> {
  const found = await tx.cardTotal.aggregate({
    where: { saleId, voided: null },
    _sum: { fee: true },
  });
  return found._sum.fee === null ? null : Number(found._sum.fee);
}
