import type { Group } from "../groups.ts";
import type { Rule } from "../rule.ts";
import type { CautionText } from "./words.ts";

/**
 * What the desk does with a piece, mildest first: nothing, look at it, hold it until something is
 * shown, or send it home. None of them says that a piece complies with a law.
 */
export const outcomes = ["fine", "look", "hold", "refuse"] as const;

export type Outcome = (typeof outcomes)[number];

/** One answer a member can give, and what follows from it. */
export interface CautionOption {
  value: string;
  words: string;
  outcome: Outcome;
  prints?: readonly CautionText[];
  /** What the desk looks at, or tells the member; the pointer to local rules is added to it. */
  desk?: string;
}

/** A matter that is asked about only for the kinds that call for it. */
export interface Caution {
  code: string;
  groups: readonly Group[];
  /** Single kinds besides, where only some of a group call for the question. */
  kinds?: readonly string[];
  question: string;
  options: readonly CautionOption[];
  rule: Rule;
}
