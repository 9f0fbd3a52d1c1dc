import { checkContents } from "./check-contents.ts";
import type { FibreContents, FibrePart } from "./contents.ts";
import { groupOf, notTextile } from "./groups.ts";
import { fill, type LabelLine, type Language } from "./language.ts";
import type { FibreRules, LabelWords, Pack } from "./pack.ts";
import { partText, type WorkedPart, workOutPart } from "./part-text.ts";
import { pileLines } from "./pile.ts";
import { addRule, type Rule } from "./rule.ts";
import type { Verdict } from "./small-fibres.ts";

/** What may be printed about a piece's fibres, and why. Refused contents print nothing. */
export interface FibreLabel extends Verdict {
  lines: LabelLine[];
  /** Whether the law asks for this text on this kind of goods. */
  duty: Rule & { required: boolean };
}

/** The fibre label of a piece: text lines by language, with the rule behind every decision. */
export function fibreLabel(contents: FibreContents): FibreLabel {
  const { pack } = contents;
  if (isWithoutFibre(contents))
    return { reasons: [], warnings: [], refusals: [], lines: [], duty: dutyOf(contents) };
  const verdict: Verdict = { reasons: [], warnings: [], refusals: checkContents(contents) };
  const blank = { ...verdict, lines: [], duty: dutyOf(contents) };
  if (verdict.refusals.length > 0) return blank;

  const worked = contents.parts.map((part) => workOutPart(part, contents, verdict));
  const parts = worked.filter((part) => part !== null);
  const union = contents.parts.filter(({ cottonWarpLinenWeft }) => cottonWarpLinenWeft);
  // Where the law knows no such name, the tick is a fact about the cloth that goes unsaid.
  if (pack.fibre.union) for (const part of union) checkUnion(part, pack.fibre.union, verdict);
  if (verdict.refusals.length > 0) return blank;

  if (parts.length > 1) addRule(verdict.reasons, pack.fibre.sections);
  if (parts.some(({ section }) => section === "outer-surface") && pack.fibre.outerSurface)
    addRule(verdict.reasons, pack.fibre.outerSurface);
  addRule(verdict.reasons, pack.fibre.counted);
  addRule(verdict.reasons, toleranceOf(contents));
  const lines = languageSets(contents, verdict).flatMap((languages) => {
    const words = languages.map((language) => wordsOf(pack, language));
    return textsOf(contents, parts, words, verdict).map((text) => ({ text, languages }));
  });
  return { ...verdict, lines, duty: dutyOf(contents) };
}

/** A candle or soap of which nobody has named a fibre: there is nothing to say, nor to refuse. */
const isWithoutFibre = ({ kind, parts }: FibreContents): boolean =>
  notTextile.includes(groupOf(kind)) && parts.every(({ fibres }) => fibres.length === 0);

function wordsOf(pack: Pack, language: Language): LabelWords {
  const words = pack.words[language];
  if (!words) throw new RangeError(`The pack ${pack.code} has no words for ${language}`);
  return words;
}

/** One set of languages per printed line: all together in Canada, one each elsewhere. */
function languageSets({ pack, languages }: FibreContents, verdict: Verdict): Language[][] {
  const wanted = pack.languages.filter((one) => languages?.includes(one) ?? true);
  if (!pack.together) return wanted.map((language) => [language]);
  addRule(
    wanted.length < pack.languages.length ? verdict.warnings : verdict.reasons,
    pack.languageRule,
  );
  return [wanted];
}

function textsOf(
  contents: FibreContents,
  parts: readonly WorkedPart[],
  words: readonly LabelWords[],
  verdict: Verdict,
): string[] {
  const beside = (say: (one: LabelWords) => string) => words.map(say).join(" / ");
  const texts = pileLines(parts, words) ?? sectionLines(contents, parts, words);
  if (contents.pack.fibre.union && contents.parts.some((part) => part.cottonWarpLinenWeft))
    texts.push(beside(({ union }) => union));
  if (contents.animalParts && contents.pack.fibre.animalParts) {
    addRule(verdict.reasons, contents.pack.fibre.animalParts);
    texts.push(beside(({ animalParts }) => animalParts));
  }
  return texts;
}

function sectionLines(
  { nameOrnament }: FibreContents,
  parts: readonly WorkedPart[],
  words: readonly LabelWords[],
): string[] {
  return parts.map((part) => {
    const text = partText(part, words, nameOrnament ?? false);
    const { section } = part;
    if (!section) return text;
    const name = words.map(({ sections }) => sections[section]).join(" / ");
    return fill(words[0]!.inSection, { section: name, text });
  });
}

/** The union's own name is lawful only for pure cotton on pure linen, with enough linen. */
function checkUnion(
  part: FibrePart,
  rule: NonNullable<FibreRules["union"]>,
  verdict: Verdict,
): void {
  const linen = part.fibres.filter((entry) => entry.fibre === "linen");
  const pure = part.fibres.every((entry) => ["cotton", "linen"].includes(entry.fibre));
  const weigh = (entries: FibrePart["fibres"]) =>
    entries.reduce((sum, { share }) => sum + BigInt(share), 0n);
  const enough = weigh(linen) * 100_000n >= weigh(part.fibres) * BigInt(rule.leastLinen);
  const hasBoth = linen.length > 0 && linen.length < part.fibres.length;
  addRule(pure && hasBoth && enough ? verdict.reasons : verdict.refusals, rule);
}

const holdsWool = ({ pack, parts }: FibreContents): boolean =>
  parts.some(({ fibres }) =>
    fibres.some(({ fibre }) => pack.fibre.alwaysNamed.fibres.includes(fibre)),
  );

/** Goods that hold wool may have a tolerance of their own: 15 U.S.C. 68b(a)(2)(A). */
function toleranceOf(contents: FibreContents): Rule {
  const { woolProduct, tolerance } = contents.pack.fibre;
  if (!woolProduct || !holdsWool(contents)) return tolerance;
  const { except, ...rule } = woolProduct;
  return except.includes(groupOf(contents.kind)) ? tolerance : rule;
}

/** Whether the law asks for the label: by the group of goods, or because the piece holds wool. */
function dutyOf(contents: FibreContents): FibreLabel["duty"] {
  const { pack, kind } = contents;
  const { duty, coveredByWool } = pack.fibre;
  const { covered, ...rule } = duty;
  const group = groupOf(kind);
  if (covered === "all") return { ...rule, required: !notTextile.includes(group) };
  if (covered === "none") return { ...rule, required: false };
  if (covered.includes(group)) return { ...rule, required: true };
  if (holdsWool(contents) && coveredByWool?.groups.includes(group)) {
    const { groups: _, ...woolRule } = coveredByWool;
    return { ...woolRule, required: true };
  }
  return { ...rule, required: false };
}
