import type { Transaction } from "../database/client.ts";
import { type CashCount, checkCounts, countCash } from "../rules/denominations.ts";
import { problem, type Result, refuseField } from "../rules/problem.ts";

/**
 * Refuses a count of notes and coins that cannot be, or that does not come to the sum beside it.
 * An empty count says nothing: then only the sum is known.
 */
export async function checkCounted(
  tx: Transaction,
  counts: readonly CashCount[],
  sum: { field: string; amount: number },
): Promise<Result<never> | undefined> {
  if (counts.length === 0) return undefined;
  const { currency } = await tx.guild.findFirstOrThrow({ select: { currency: true } });
  const errors = checkCounts(counts, currency);
  if (errors.length > 0)
    return {
      ok: false,
      problem: problem("invalid-input", "Look at the count again. Nothing was recorded.", errors),
    };
  if (countCash(counts) === sum.amount) return undefined;
  return refuseField(sum.field, "The notes and coins come to another sum. Count once more.");
}

/** What is kept of a count: the notes and coins that were there, the largest first. */
export const keptCounts = (counts: readonly CashCount[]): { value: number; count: number }[] =>
  counts
    .filter(({ count }) => count > 0)
    .map(({ value, count }) => ({ value, count }))
    .sort((one, other) => other.value - one.value);
