import { claimsCompliance } from "./claims.ts";
import type { FibreCode } from "./fibres.ts";
import type { LabelLine } from "./language.ts";
import type { Pack } from "./pack.ts";
import { addRule, houseRule, type Rule } from "./rule.ts";
import { fibresNamedIn, startsLike, wordsIn } from "./title-words.ts";
import { virginStems } from "./words/fibre-stems.ts";

export interface TitleAdvice {
  warnings: Rule[];
  /** What to print beside a title that names one fibre of several. */
  pointers: LabelLine[];
}

export interface TitleSurroundings {
  /** The whole fibre content stands on the same tag as the title. */
  fullContentBeside?: boolean;
  /** Some of the wool or hair was won back from cloth. */
  reclaimed?: boolean;
}

/**
 * Warns about a title that names a fibre the piece does not hold, or only some of several. Words
 * alone cannot prove an intent to mislead ("camel" is also a colour), so nothing is refused here.
 * Where the whole content stands on the same tag no pointer to it is needed, but the warning stays:
 * the title is read alone in lists and on receipts.
 */
export function checkTitle(
  title: string,
  fibres: readonly FibreCode[],
  pack: Pack,
  { fullContentBeside = false, reclaimed = false }: TitleSurroundings = {},
): TitleAdvice {
  const named = fibresNamedIn(title, pack.languages);
  const warnings: Rule[] = [];
  for (const { word, fibres: meant, bamboo } of named) {
    if (bamboo) addRule(warnings, pack.title.bamboo);
    if (!meant.some((code) => fibres.includes(code)))
      addRule(warnings, {
        ...pack.title.absent,
        words: `The title says "${word}", and no such fibre is in the list. ${pack.title.absent.words}`,
      });
  }
  const says = (stems: readonly string[]) =>
    wordsIn(title).some((word) => stems.some((stem) => startsLike(word, stem)));
  const usedWool = reclaimed || fibres.includes("recycled-wool");
  if (pack.title.virgin && usedWool && says(virginStems)) addRule(warnings, pack.title.virgin);
  if (claimsCompliance(title))
    addRule(
      warnings,
      houseRule("A title of ours does not say that a piece complies. Leave it out."),
    );

  const present = named
    .flatMap(({ fibres: meant }) => meant)
    .filter((code) => fibres.includes(code));
  const silent = fibres.filter((code) => !present.includes(code));
  if (present.length === 0 || silent.length === 0) return { warnings, pointers: [] };
  const words = named.map(({ word }) => `"${word}"`).join(" and ");
  const beside = fullContentBeside ? " Our tag prints it beside the title." : "";
  addRule(warnings, {
    ...pack.title.oneOfSeveral,
    words: `The title says ${words}, and the piece holds other fibres too. ${pack.title.oneOfSeveral.words}${beside}`,
  });
  return { warnings, pointers: fullContentBeside ? [] : pointersOf(pack) };
}

function pointersOf(pack: Pack): LabelLine[] {
  return pack.languages.flatMap((language) => {
    const text = pack.title.pointer[language];
    return text ? [{ text, languages: [language] }] : [];
  });
}
