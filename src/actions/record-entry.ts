import type { OutboxAnswer, OutboxEntry } from "../contract/till-fact.ts";
import type { Result } from "../rules/problem.ts";
import { recordCashMoveFact } from "./move-cash.ts";
import { type FromTill, recordFact } from "./record-fact.ts";
import { recordMailFact } from "./record-mail.ts";

/** Records one entry of a till's outbox, whatever it is. */
export function recordEntry(from: FromTill, entry: OutboxEntry): Promise<Result<OutboxAnswer>> {
  if (entry.what === "receipt") return recordFact(from, entry.body);
  if (entry.what === "cash-move") return recordCashMoveFact(from, entry.body);
  return recordMailFact(from, entry.body);
}
