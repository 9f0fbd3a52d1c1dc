import { claimsCompliance } from "./claims.ts";
import type { FibreEntry } from "./contents.ts";
import { countedAs, type FibreCode, familyOf } from "./fibres.ts";
import type { Pack } from "./pack.ts";
import { houseRule, type Rule } from "./rule.ts";
import { fibresNamedIn, startsLike, wordsIn } from "./title-words.ts";
import { virginStems } from "./words/fibre-stems.ts";

const longestBrand = 40;

/** Fibres spun from pulp, the only ones of which "made from bamboo" can be true. */
const ofPulp: readonly FibreCode[] = ["rayon", "lyocell", "modal"];

/**
 * Why a trade name may not stand beside its fibre; null where it may. It stands in brackets behind
 * the generic name (16 CFR 303.17(a)) and so may name no other fibre, not even one that is in the
 * piece as well: "Lyocell (Wool Dream)" would be read as wool (16 CFR 303.18).
 */
export function brandFault({ fibre, brand = "", reclaimed }: FibreEntry, pack: Pack): Rule | null {
  const typed = brand.trim();
  if (typed === "") return null;
  if (typed.length > longestBrand || /[%()*†]|\d\s*\/\s*\d/.test(typed) || !/\p{L}/u.test(typed))
    return houseRule(
      "Type only the fibre's trade name, in letters: no percentages, brackets or stars.",
    );
  if (claimsCompliance(typed))
    return houseRule("A label of ours does not say that something is certified or complies.");
  if (familyOf(fibre) === "unclear")
    return {
      ...pack.fibre.brand,
      words: `A fibre that is not named has no trade name. ${pack.fibre.brand.words}`,
    };
  const named = fibresNamedIn(typed);
  if (named.some(({ bamboo }) => bamboo)) return pack.title.bamboo;
  const own = [fibre, countedAs(fibre)];
  if (named.some(({ fibres }) => !fibres.some((code) => own.includes(code))))
    return {
      ...pack.title.absent,
      words: `The trade name "${typed}" calls another fibre to mind. ${pack.title.absent.words}`,
    };
  const used = fibre === "recycled-wool" || reclaimed === true;
  const virgin = wordsIn(typed).some((word) => virginStems.some((stem) => startsLike(word, stem)));
  return used && virgin ? (pack.title.virgin ?? pack.title.absent) : null;
}

/** Why a fibre may not be said to come from bamboo; null where it may, or where nobody says so. */
export function bambooFault({ fibre, madeFrom }: FibreEntry, pack: Pack): Rule | null {
  if (madeFrom !== "bamboo" || ofPulp.includes(countedAs(fibre))) return null;
  return {
    ...pack.title.bamboo,
    words: `Only rayon, viscose, lyocell or modal can be made from bamboo. ${pack.title.bamboo.words}`,
  };
}
