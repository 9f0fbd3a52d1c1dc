import type { Transaction } from "../client.ts";

/** One thing that must hold over the whole database. */
export interface Check {
  /** Which of the six invariants it proves. */
  invariant: 1 | 2 | 3 | 4 | 5 | 6;
  words: string;
  /** How many rows were looked at, and the first one that breaks it in words. */
  run(db: Transaction): Promise<Finding[]>;
}

export interface Finding {
  checked: bigint;
  broken: string | null;
}
