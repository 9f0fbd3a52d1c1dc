import { notSaid, type SoldGroup } from "./groups.ts";
import { partWords } from "./small-counts.ts";
import { withinWords } from "./wait.ts";

/** Fewer pieces than this say nothing about the next one. */
const leastForFact = 3;

export interface Fact {
  key: string;
  words: string;
}

/**
 * Plain facts about groups, not advice: what was entered for the guild's sales and what of it sold,
 * those with the largest part sold first, and of level ones those with more pieces.
 */
export function factsOf(groups: readonly SoldGroup[]): Fact[] {
  return groups
    .filter(({ key, figures }) => key !== notSaid && figures.entered >= leastForFact)
    .toSorted(byPartSold)
    .map(({ key, label, figures }) => {
      const { soldHere, entered, timed, halfWithin, soldElsewhere } = figures;
      const soon =
        halfWithin !== null && timed >= leastForFact
          ? `, at least half of those ${withinWords(halfWithin)}`
          : "";
      const more = soldElsewhere > 0 ? `; ${soldElsewhere} more elsewhere` : "";
      return { key, words: `${label}: ${partWords(soldHere, entered)} sold${soon}${more}` };
    });
}

/** Parts are compared crosswise, which is exact. */
const byPartSold = (one: SoldGroup, other: SoldGroup): number =>
  other.figures.soldHere * one.figures.entered - one.figures.soldHere * other.figures.entered ||
  other.figures.entered - one.figures.entered ||
  (one.label < other.label ? -1 : 1);
