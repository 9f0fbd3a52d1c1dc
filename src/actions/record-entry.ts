import type { OutboxAnswer, OutboxEntry } from "../contract/till-fact.ts";
import type { Result } from "../rules/problem.ts";
import { recordCashMoveFact } from "./move-cash.ts";
import { type FromTill, recordFact } from "./record-fact.ts";

/** Records one entry of a till's outbox, whatever it is. */
export const recordEntry = (from: FromTill, entry: OutboxEntry): Promise<Result<OutboxAnswer>> =>
  entry.what === "receipt" ? recordFact(from, entry.body) : recordCashMoveFact(from, entry.body);
