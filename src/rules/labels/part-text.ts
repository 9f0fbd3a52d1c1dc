import { type Component, mergeEntries, nameOf } from "./components.ts";
import type { FibreContents, FibreEntry, FibrePart, Section } from "./contents.ts";
import { fill } from "./language.ts";
import { type Counted, leaveOut, leftOutWords } from "./left-out.ts";
import type { LabelWords, Pack } from "./pack.ts";
import { addRule, houseRule } from "./rule.ts";
import { lumpSmallFibres, type Verdict } from "./small-fibres.ts";
import { type PrintedShares, printedShares, shareNumber } from "./whole-shares.ts";

/** A part worked out: what is printed of it, in order, before it is put into words. */
export interface WorkedPart {
  section: Section | undefined;
  components: Component[];
  shares: PrintedShares;
  counted: Counted;
  /** The weight of all its fibres, or null when only percentages are known. */
  weight: bigint | null;
}

/** Works out one part, or null when a rule refuses it. */
export function workOutPart(
  part: FibrePart,
  contents: FibreContents,
  verdict: Verdict,
): WorkedPart | null {
  const { pack, smallFibres } = contents;
  const words = firstWords(pack);
  const counted = leaveOut(part, pack.fibre, verdict);
  const merged = mergeEntries(counted.entries, words);
  warnOfLostBrands(merged, counted.entries, verdict);
  const lumped = lumpSmallFibres(merged, pack.fibre, smallFibres, verdict);
  if (merged.some(({ brand }) => brand && !lumped.some((one) => one.brand === brand)))
    addRule(
      verdict.warnings,
      houseRule("A trade name is left off: its fibre is too small a share to be named."),
    );
  const components = inOrder(lumped, words);
  const shares = printedShares(
    components.map((component) => ({ name: nameOf(component, words), weight: component.weight })),
  );
  if (!shares) {
    addRule(verdict.refusals, houseRule("One share is too small to print. Check the weights."));
    return null;
  }
  addReasons(components, pack, verdict);
  return {
    section: part.section,
    components,
    shares,
    counted,
    weight: part.sharesAre === "weight" ? weightOf(part.fibres) : null,
  };
}

/** The words of the pack's first language: they decide ties, and that the same in every language. */
export function firstWords(pack: Pack): LabelWords {
  const words = pack.words[pack.languages[0]!];
  if (!words) throw new RangeError(`The pack ${pack.code} has no words in its first language`);
  return words;
}

const weightOf = (entries: readonly FibreEntry[]) =>
  entries.reduce((sum, { share }) => sum + BigInt(share), 0n);

const places: readonly Component["place"][] = ["named", "other", "unknown"];

/** By exact weight, ties by the alphabet; other and unknown fibres last, however heavy. */
function inOrder(components: readonly Component[], words: LabelWords): Component[] {
  return components.toSorted((one, other) => {
    if (one.place !== other.place) return places.indexOf(one.place) - places.indexOf(other.place);
    if (one.weight !== other.weight) return one.weight > other.weight ? -1 : 1;
    return nameOf(one, words) < nameOf(other, words) ? -1 : 1;
  });
}

function addReasons(components: readonly Component[], { fibre }: Pack, verdict: Verdict): void {
  if (components.length === 1) addRule(verdict.reasons, fibre.single);
  else addRule(verdict.reasons, fibre.order);
  addRule(verdict.reasons, fibre.names);
  if (components.some(({ brand }) => brand)) addRule(verdict.reasons, fibre.brand);
  if (components.some(({ place }) => place === "unknown")) addRule(verdict.reasons, fibre.unknown);
}

function warnOfLostBrands(
  merged: readonly Component[],
  entries: readonly FibreEntry[],
  verdict: Verdict,
): void {
  const kept = merged.map(({ brand }) => brand);
  if (entries.some(({ brand }) => brand?.trim() && !kept.includes(brand.trim())))
    addRule(
      verdict.warnings,
      houseRule("A trade name is left off: not all of that fibre in the piece carries it."),
    );
}

/** "60% Cotton, 40% Linen"; several languages stand beside each other: "60% Cotton / Coton". */
export function partText(part: WorkedPart, all: readonly LabelWords[], ornament: boolean): string {
  const { components, shares, counted } = part;
  const [first] = all;
  if (!first) throw new RangeError("A label needs at least one language");
  const beside = (say: (words: LabelWords) => string) => all.map(say).join(" / ");
  if (components[0]!.codes[0] === "scraps") return beside((words) => words.names.scraps);
  const percentages = components.map((component, place) =>
    fill(first.share, {
      number: shareNumber(shares.units[place]!, shares.decimals, first.decimalMark),
      name: beside((words) => nameOf(component, words)),
    }),
  );
  const leftOut = counted.leftOut
    .map((one) => beside((words) => leftOutWords(one, counted.entries, words, ornament)))
    .filter((words) => /\p{L}/u.test(words));
  return [...percentages, ...leftOut].join(", ");
}
