/**
 * One rule in plain words with where it is published. `fromMemory` marks a rule that was written
 * down from memory: it needs one look at the official text before a guild leans on it.
 */
export interface Rule {
  words: string;
  source: string;
  fromMemory?: boolean;
}

/** A convention of our own, where the law is silent. */
export const houseRule = (words: string): Rule => ({ words, source: "House rule" });

/** What percentages are of, where the law does not spell it out. */
export const finishedPieceRule = houseRule(
  "Percentages are of the fibres in the finished piece, by weight: sewing thread, beads, buttons and loom waste are not counted.",
);

/** Adds a rule once: a reason said twice reads like two reasons. */
export function addRule(rules: Rule[], { words, source, fromMemory }: Rule): void {
  if (rules.some((rule) => rule.words === words)) return;
  rules.push(fromMemory ? { words, source, fromMemory } : { words, source });
}
