import { claimsCompliance } from "./claims.ts";
import { fill, type LabelLine, type Language } from "./language.ts";
import type { Craft, OriginWords, Pack } from "./pack.ts";
import { addRule, houseRule, type Rule } from "./rule.ts";
import { plainLetters, wordsIn } from "./title-words.ts";

export type MaterialOrigin = "domestic" | "imported" | "unknown";

export interface OriginDetails {
  craft: Craft;
  /** Where each yarn (or fibre, or cloth) came from; nothing is assumed for one left out. */
  materials: readonly MaterialOrigin[];
  /** The country the work was done in, when it is not the country of the sale. */
  madeAbroadIn?: string;
}

export interface Origin {
  lines: LabelLine[];
  reasons: Rule[];
  warnings: Rule[];
}

/**
 * The origin words where the law wants them. A bare "Made in" is printed only when every yarn is
 * known to be of the country; one yarn of unknown origin prints nothing and warns. The country's
 * own name typed as another country is taken for home, or it would be a way round that.
 */
export function originLines(details: OriginDetails, { origin: rule }: Pack): Origin {
  const origin: Origin = { lines: [], reasons: [], warnings: [] };
  const abroad = details.madeAbroadIn?.trim() ?? "";
  if (abroad && !isCountry(abroad))
    addRule(origin.warnings, houseRule("Type the country's name alone, in plain letters."));
  for (const [language, words] of Object.entries(rule.print) as [Language, OriginWords][]) {
    const text = originText(details, words);
    if (text) origin.lines.push({ text, languages: [language] });
    else
      addRule(origin.warnings, {
        ...rule,
        words: `Ask where the ${words.crafts[details.craft].material} came from: the label on the cone says it. ${rule.words}`,
      });
  }
  if (origin.warnings.length === 0) addRule(origin.reasons, rule);
  return origin;
}

function originText(details: OriginDetails, words: OriginWords): string | null {
  const country = details.madeAbroadIn?.trim() ?? "";
  const gaps = { ...words.crafts[details.craft], country };
  if (country && !isCountry(country)) return null;
  if (country && !isHome(country, words)) return fill(words.abroad, gaps);
  const { materials } = details;
  if (materials.length === 0 || materials.includes("unknown")) return null;
  if (!materials.includes("imported")) return fill(words.wholly, gaps);
  return fill(materials.includes("domestic") ? words.mixed : words.imported, gaps);
}

const isCountry = (text: string): boolean =>
  /^\p{L}[\p{L}\p{M} .,'’-]+$/u.test(text) && !claimsCompliance(text);

/** "U.S.A.", "the United States": the words of the name stand together somewhere in the text. */
function isHome(country: string, { home }: OriginWords): boolean {
  const plain = ` ${wordsIn(plainLetters(country)).join(" ")} `;
  return home.some((name) => plain.includes(` ${name} `));
}
