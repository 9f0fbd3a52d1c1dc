import { checkContents } from "./check-contents.ts";
import type { FibreContents, FibrePart } from "./contents.ts";
import { groupOf } from "./groups.ts";
import { fill, type LabelLine, type Language } from "./language.ts";
import type { LabelWords, Pack } from "./pack.ts";
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
  const verdict: Verdict = { reasons: [], warnings: [], refusals: checkContents(contents) };
  const blank = { ...verdict, lines: [], duty: dutyOf(contents) };
  if (verdict.refusals.length > 0) return blank;

  const worked = contents.parts.map((part) => workOutPart(part, contents, verdict));
  const parts = worked.filter((part) => part !== null);
  const union = contents.parts.filter(({ cottonWarpLinenWeft }) => cottonWarpLinenWeft);
  for (const part of union) checkUnion(part, pack, verdict);
  if (verdict.refusals.length > 0) return blank;

  if (parts.length > 1) addRule(verdict.reasons, pack.fibre.sections);
  if (parts.some(({ section }) => section === "outer-surface") && pack.fibre.outerSurface)
    addRule(verdict.reasons, pack.fibre.outerSurface);
  addRule(verdict.reasons, pack.fibre.tolerance);
  const lines = languageSets(contents, verdict).flatMap((languages) => {
    const words = languages.map((language) => wordsOf(pack, language));
    return textsOf(contents, parts, words, verdict).map((text) => ({ text, languages }));
  });
  return { ...verdict, lines, duty: dutyOf(contents) };
}

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
  if (contents.parts.some(({ cottonWarpLinenWeft }) => cottonWarpLinenWeft))
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
function checkUnion(part: FibrePart, { fibre, title }: Pack, verdict: Verdict): void {
  const rule = fibre.union;
  const linen = part.fibres.filter((entry) => entry.fibre === "linen");
  const pure = part.fibres.every((entry) => ["cotton", "linen"].includes(entry.fibre));
  const weigh = (entries: FibrePart["fibres"]) =>
    entries.reduce((sum, { share }) => sum + BigInt(share), 0n);
  const enough = rule
    ? weigh(linen) * 100_000n >= weigh(part.fibres) * BigInt(rule.leastLinen)
    : false;
  const hasBoth = linen.length > 0 && linen.length < part.fibres.length;
  if (pure && hasBoth && enough && rule) addRule(verdict.reasons, rule);
  else addRule(verdict.refusals, rule ?? title.oneOfSeveral);
}

/** Whether the law asks for the label: by the group of goods, or because the piece holds wool. */
function dutyOf({ pack, kind, parts }: FibreContents): FibreLabel["duty"] {
  const { duty, coveredByWool } = pack.fibre;
  const { covered, ...rule } = duty;
  const group = groupOf(kind);
  const holdsWool = parts.some(({ fibres }) =>
    fibres.some(({ fibre }) => pack.fibre.alwaysNamed.fibres.includes(fibre)),
  );
  if (covered === "all") return { ...rule, required: !["candle", "soap"].includes(group) };
  if (covered === "none") return { ...rule, required: false };
  if (covered.includes(group)) return { ...rule, required: true };
  if (holdsWool && coveredByWool?.groups.includes(group)) {
    const { groups: _, ...woolRule } = coveredByWool;
    return { ...woolRule, required: true };
  }
  return { ...rule, required: false };
}
