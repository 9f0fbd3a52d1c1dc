import type { FibreCode } from "./fibres.ts";
import type { LabelLine } from "./language.ts";
import type { Pack } from "./pack.ts";
import { addRule, type Rule } from "./rule.ts";
import { fibresNamedIn, startsLike, wordsIn } from "./title-words.ts";
import { virginStems } from "./words/fibre-stems.ts";

export interface TitleAdvice {
  warnings: Rule[];
  /** What to print beside a title that names one fibre of several. */
  pointers: LabelLine[];
}

/**
 * Warns about a title that names a fibre the piece does not hold, or only some of several. Words
 * alone cannot prove an intent to mislead ("camel" is also a colour), so nothing is refused here.
 * `fullContentBeside` is true where the whole fibre content stands on the same tag as the title.
 */
export function checkTitle(
  title: string,
  fibres: readonly FibreCode[],
  pack: Pack,
  fullContentBeside = false,
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
  if (pack.title.virgin && fibres.includes("recycled-wool") && says(virginStems))
    addRule(warnings, pack.title.virgin);

  const present = named
    .flatMap(({ fibres: meant }) => meant)
    .filter((code) => fibres.includes(code));
  const silent = fibres.filter((code) => !present.includes(code));
  if (present.length === 0 || silent.length === 0 || fullContentBeside)
    return { warnings, pointers: [] };
  const words = named.map(({ word }) => `"${word}"`).join(" and ");
  addRule(warnings, {
    ...pack.title.oneOfSeveral,
    words: `The title says ${words}, and the piece holds other fibres too. ${pack.title.oneOfSeveral.words}`,
  });
  return { warnings, pointers: pointersOf(pack) };
}

function pointersOf(pack: Pack): LabelLine[] {
  return pack.languages.flatMap((language) => {
    const text = pack.title.pointer[language];
    return text ? [{ text, languages: [language] }] : [];
  });
}
