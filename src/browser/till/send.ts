import type { ReceiptInput } from "../../contract/receipt.ts";
import type { RecordedShown } from "../../contract/receipt-shown.ts";
import { type Refusal, sendReceipt } from "./server.ts";
import type { TillSettings } from "./settings.ts";
import { signal } from "./signal.ts";

export type Sent =
  | { kind: "recorded"; value: RecordedShown }
  | { kind: "refused"; refusal: Refusal }
  | { kind: "signed-out" };

/** Statuses that say nothing about an earlier try of the same receipt. */
const undecided = new Set([408, 425, 429]);

/**
 * Sends a receipt until the server says what became of it. The same id goes out each time, so
 * that an answer lost on the way costs nothing and records nothing twice.
 */
export async function sendUntilAnswered(
  settings: TillSettings,
  receipt: ReceiptInput,
): Promise<Sent> {
  for (let attempt = 1; ; attempt += 1) {
    const answer = await sendReceipt(settings, receipt);
    if (answer.kind === "done") return { kind: "recorded", value: answer.value };
    if (answer.kind === "refused" && isSignedOut(answer.status)) return { kind: "signed-out" };
    if (answer.kind === "refused" && !undecided.has(answer.status))
      return { kind: "refused", refusal: answer.refusal };
    signal(
      "trouble",
      "The answer did not arrive. Sending again: nothing is lost, and nothing is recorded twice.",
    );
    await new Promise((resolve) => setTimeout(resolve, Math.min(1_000 * 2 ** attempt, 15_000)));
  }
}

/** The session ended, or the page belongs to an earlier one. */
export const isSignedOut = (status: number): boolean => status === 401 || status === 403;
