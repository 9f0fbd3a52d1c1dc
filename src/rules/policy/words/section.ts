import type { Minor } from "../../money.ts";

/** A part of a policy as people read it: a heading with whole sentences below. */
export interface PolicySection {
  title: string;
  sentences: string[];
}

/** Writes an amount of smallest coins as the guild writes money. */
export type MoneyWords = (amount: Minor) => string;
