import { fill } from "./language.ts";
import type { LabelWords } from "./pack.ts";
import { partText, type WorkedPart } from "./part-text.ts";

/**
 * Pile and back of a pile cloth in the form 16 CFR 303.24 shows: each with its fibre, and how they
 * share the weight. Null unless there is exactly a pile and a back of one fibre each, by weight,
 * in a language with that form; the parts are then listed as ordinary sections.
 */
export function pileLines(
  parts: readonly WorkedPart[],
  words: readonly LabelWords[],
): string[] | null {
  const pile = parts.find(({ section }) => section === "pile");
  const back = parts.find(({ section }) => section === "back");
  const [first] = words;
  if (!pile?.weight || !back?.weight || parts.length !== 2) return null;
  if (!first?.pileOnBack || words.length !== 1) return null;
  if (pile.components.length > 1 || back.components.length > 1) return null;
  const total = pile.weight + back.weight;
  const pilePercent = (pile.weight * 200n + total) / (total * 2n);
  if (pilePercent === 0n || pilePercent === 100n) return null;
  return [
    fill(first.pileOnBack, {
      pileText: partText(pile, words, false),
      backText: partText(back, words, false),
      pile: String(pilePercent),
      back: String(100n - pilePercent),
    }),
  ];
}
