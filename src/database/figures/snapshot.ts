import type { Database, Transaction } from "../client.ts";

/**
 * Reads several things of one moment: a till that sells meanwhile would otherwise make a report
 * contradict the ledger beside it.
 */
export const onOneSnapshot = <T>(db: Database, read: (tx: Transaction) => Promise<T>): Promise<T> =>
  db.$transaction(read, { isolationLevel: "RepeatableRead", timeout: 30_000, maxWait: 5_000 });
