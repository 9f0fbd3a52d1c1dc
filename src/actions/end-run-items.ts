import type { DropItemsInput, PayRunInput } from "../contract/paying.ts";
import type { Transaction } from "../database/client.ts";
import { type Deed, perform } from "../database/perform.ts";
import { total } from "../rules/money.ts";
import { ok, type Result, refuse } from "../rules/problem.ts";
import type { PayoutMethod } from "../rules/statement.ts";
import { payStatement } from "./record-payout.ts";

export interface Ended {
  runId: string;
  payments: number;
  total: number;
}

/** Records payments of a run as made, all that wait or those named: each becomes a payout. */
export const payRunItems = (
  deed: Deed,
  runId: string,
  input: PayRunInput,
): Promise<Result<Ended>> =>
  perform(deed, "pay-run", { runId, ...input }, async (tx) => {
    const found = await waitingItems(tx, runId, input.positions);
    if (!found.ok) return found;
    const { method, items } = found.value;
    for (const { statementId, position, reference } of items) {
      const payout = { statementId, method, reference, paidOn: input.paidOn };
      const paid = await payStatement(tx, deed.actor, payout, runId);
      if (!paid.ok) return paid;
      const { payoutId } = paid.value;
      await end(tx, deed, runId, [position], { outcome: "paid", payoutId });
      // A payout has its line in the audit list however it was recorded.
      const detail = { ...paid.value, method, reference };
      const by = { byId: deed.actor.id, requestId: deed.requestId };
      await tx.audit.create({
        data: { deed: "record-payout", subjectId: payoutId, detail, ...by },
      });
    }
    const value = endedOf(runId, items);
    return ok({ value, subjectId: runId, detail: { ...value, paidOn: input.paidOn } });
  });

/** Takes payments out of a run, all that wait or those named, with the reason; they can be prepared again. */
export const dropRunItems = (
  deed: Deed,
  runId: string,
  input: DropItemsInput,
): Promise<Result<Ended>> =>
  perform(deed, "drop-from-run", { runId, ...input }, async (tx) => {
    const found = await waitingItems(tx, runId, input.positions);
    if (!found.ok) return found;
    const { items } = found.value;
    const positions = items.map(({ position }) => position);
    await end(tx, deed, runId, positions, { outcome: "dropped", reason: input.reason });
    const value = endedOf(runId, items);
    return ok({ value, subjectId: runId, detail: { ...value, reason: input.reason } });
  });

interface Waiting {
  position: number;
  statementId: string;
  reference: string;
  amount: bigint;
  outcome: string | null;
}

/** The run is held until the deed is done: the second of two finds what the first one did. */
async function waitingItems(
  tx: Transaction,
  runId: string,
  positions: readonly number[] | null,
): Promise<Result<{ method: PayoutMethod; items: Waiting[] }>> {
  await tx.$queryRaw`SELECT 1 FROM paying_run WHERE id = ${runId}::uuid FOR UPDATE`;
  const run = await tx.payingRun.findUnique({
    where: { id: runId },
    // In the order of the statements, as whoever prepares a run locks them.
    include: { items: { orderBy: { statementId: "asc" } } },
  });
  if (!run) return refuse("not-found", "There is no such paying run.");
  const named = run.items.filter((item) => positions === null || positions.includes(item.position));
  if (positions !== null && named.length < new Set(positions).size)
    return refuse("not-found", "There is no such payment in this run.");
  const waiting = named.filter(({ outcome }) => outcome === null);
  if (waiting.length === 0 || (positions !== null && waiting.length < named.length))
    return refuse("already-done", await whoDidIt(tx, named));
  return ok({ method: run.method as PayoutMethod, items: waiting });
}

async function whoDidIt(
  tx: Transaction,
  items: readonly { outcome: string | null; endedById: string | null; payee: string }[],
): Promise<string> {
  const [first] = items.filter(({ outcome }) => outcome !== null);
  const who = await tx.member.findUniqueOrThrow({ where: { id: first?.endedById ?? "" } });
  const what = first?.outcome === "paid" ? "recorded as paid" : "dropped";
  return `${who.name} ${what === "dropped" ? what : `${what}:`} ${first?.payee}. Nothing was recorded twice; load the page again.`;
}

async function end(
  tx: Transaction,
  deed: Deed,
  runId: string,
  positions: number[],
  data: { outcome: "paid"; payoutId: string } | { outcome: "dropped"; reason: string },
): Promise<void> {
  const ended = await tx.payingRunItem.updateMany({
    where: { runId, position: { in: positions }, outcome: null },
    data: { ...data, endedById: deed.actor.id, endedAt: new Date() },
  });
  if (ended.count !== positions.length)
    throw new Error(`Run ${runId} changed although it was held.`);
}

const endedOf = (runId: string, items: readonly Waiting[]): Ended => ({
  runId,
  payments: items.length,
  total: total(items.map(({ amount }) => Number(amount))),
});
