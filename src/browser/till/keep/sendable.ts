import { receiptFact } from "../../../contract/till-fact.ts";
import type { Unnumbered } from "../sell/sale-fact.ts";

/**
 * Throws for a receipt that the server could never take, in words for the cashier: once stored it
 * would wait here for ever, and every later receipt of this till behind it.
 */
export function assertSendable(receipts: readonly Unnumbered[]): void {
  for (const receipt of receipts) {
    const read = receiptFact.safeParse({ ...receipt, number: 1 });
    if (read.success) continue;
    const { path, message } = read.error.issues[0]!;
    const line = path[0] === "lines" && typeof path[1] === "number" ? receipt.lines[path[1]] : null;
    const about = line ? `Line ${Number(path[1]) + 1}, ${line.description}: ` : "";
    throw new Error(`${about}${message}.`);
  }
}
