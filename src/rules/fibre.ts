import type { Role } from "./labels/contents.ts";
import { fibreCodes, isFibreCode } from "./labels/fibres.ts";
import { englishUs } from "./labels/words/english-us.ts";
import type { FieldError } from "./problem.ts";

/** A fibre's share of the finished piece by weight, in whole percents from 1 to 100. */
export interface Fibre {
  fibre: string;
  percent: number;
  /** The maker's trade name of the fibre; it is printed only beside the generic name. */
  brand?: string | undefined;
  role?: Role | undefined;
  madeFrom?: "bamboo" | undefined;
  reclaimed?: boolean | undefined;
}

/** A label prints these by a shorter name, which would stand in a list twice. */
const toldApart: Partial<Record<string, string>> = {
  "superwash-wool": "Wool, superwash",
  viscose: "Viscose",
  "bamboo-rayon": "Rayon made from bamboo",
};

/** The generic name of a fibre in plain English, for lists and messages; labels use their own. */
export const fibreName = (code: string): string =>
  toldApart[code] ?? (isFibreCode(code) ? englishUs.names[code] : code);

/** The fibres to choose from, by name. */
export const fibreList = fibreCodes.map((code) => ({ code, name: fibreName(code) }));

/** Cotton in the cloth and cotton in its ornament are two entries; the same twice is a slip. */
const sameFibre = (one: Fibre, other: Fibre): boolean =>
  one.fibre === other.fibre &&
  (one.role ?? "") === (other.role ?? "") &&
  (one.brand ?? "") === (other.brand ?? "") &&
  (one.madeFrom ?? "") === (other.madeFrom ?? "") &&
  (one.reclaimed ?? false) === (other.reclaimed ?? false);

/** What is wrong with a list of fibres: names known, none twice, whole percents that make 100. */
export function checkFibres(fibres: readonly Fibre[], field = "fibres"): FieldError[] {
  if (fibres.length === 0) return [{ field, message: "Choose at least one fibre." }];
  const errors = fibres.flatMap((entry, index) => {
    const { fibre, percent } = entry;
    const at = `${field}.${index}`;
    const wrong: FieldError[] = [];
    if (!isFibreCode(fibre))
      wrong.push({ field: `${at}.fibre`, message: "Choose a fibre from the list." });
    else if (fibres.findIndex((other) => sameFibre(other, entry)) < index)
      wrong.push({
        field: `${at}.fibre`,
        message: `${fibreName(fibre)} is in the list twice. Add the two percentages together.`,
      });
    if (!Number.isSafeInteger(percent) || percent < 1 || percent > 100)
      wrong.push({ field: `${at}.percent`, message: "Type a whole percentage from 1 to 100." });
    return wrong;
  });
  if (errors.length > 0) return errors;
  const sum = fibres.reduce((percents, { percent }) => percents + percent, 0);
  if (sum === 100) return [];
  const fix = sum < 100 ? `${100 - sum} more` : `${sum - 100} less`;
  return [{ field, message: `The fibres add up to ${sum} %. They need to make 100: ${fix}.` }];
}
