import { type Deed, perform } from "../database/perform.ts";
import type { ReceiptRead } from "../database/receipts.ts";
import { ok, type Problem, problem, type Result, refuse } from "../rules/problem.ts";
import { computeReversal } from "../rules/reversal.ts";
import {
  holdReceipt,
  type Reversed,
  reversalRefusals,
  storedLines,
  writeReversal,
} from "./write-reversal.ts";

/**
 * Calls off a whole receipt while its till has not been cashed up: the pieces stand on the floor
 * again and every tender goes back the way it came. The receipt keeps its number.
 */
export const voidReceipt = (
  deed: Deed,
  input: { receiptId: string; reason: string },
): Promise<Result<Reversed>> =>
  perform(
    deed,
    "void-receipt",
    input,
    async (tx) => {
      const original = await holdReceipt(tx, input.receiptId);
      if (!original) return refuse("not-found", "There is no such receipt.");
      const hindered = hindrance(original);
      if (hindered) return { ok: false, problem: hindered };
      const whole = original.lines.map(({ id, quantity }) => ({ lineId: id, quantity }));
      const figures = computeReversal({ lines: storedLines(original) }, whole);
      if (!figures.ok) return figures;
      const value = await writeReversal(tx, deed, original, {
        kind: "void",
        reason: input.reason,
        tillId: original.tillId,
        tillNumber: original.tillNumber,
        tillSessionId: original.tillSessionId,
        figures: figures.value,
        tenders: original.tenders.map((tender) => ({ ...tender, amount: 0 - tender.amount })),
        rounding: 0 - original.rounding,
      });
      return ok({ value, subjectId: original.id, detail: { ...value, reason: input.reason } });
    },
    reversalRefusals,
  );

/** Why a receipt cannot be called off, or undefined when it can. */
export function hindrance(receipt: ReceiptRead): Problem | undefined {
  if (receipt.kind !== "sale")
    return problem("already-done", "Only a sale can be called off. To undo a return, sell again.");
  const [before] = receipt.reversedBy;
  if (before?.kind === "void")
    return problem("already-done", `This receipt was called off with ${before.name}.`);
  if (before)
    return problem(
      "already-done",
      `Some of it came back with ${before.name}. Take the rest back as a return too.`,
    );
  if (receipt.onDevice)
    return problem(
      "not-allowed",
      `Till ${receipt.tillNumber} lives on a device of its own. Call the receipt off there, or take the pieces back as a return at another till.`,
    );
  if (!receipt.sessionOpen)
    return problem(
      "till-closed",
      "Its till has been cashed up since, so it can no longer be called off. Take the pieces back as a return.",
    );
  return undefined;
}
