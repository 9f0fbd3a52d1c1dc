/** What a person typed, taken apart: digits before and after the decimal mark. */
export interface TypedNumber {
  negative: boolean;
  whole: string;
  fraction: string;
}

export type Reading = TypedNumber | "empty" | "not-a-number" | "ambiguous";

const invisible = /\p{Cf}/gu;
const spacedGroups = /^\d{1,3}(?:[\s'’]\d{3})+(?=$|[.,])/;
const oneMark = /^(\d*)[.,](\d+)$/;
const markedGroups = /^([1-9]\d{0,2}(?:([.,])\d{3})(?:\2\d{3})*)(?:(?!\2)[.,](\d+))?$/;

/**
 * Reads a typed number with a point or a comma as decimal mark. `digits` is how many decimals are
 * usual: one mark before exactly three digits is a decimal mark when three are usual, groups
 * thousands when none are, and is otherwise refused as ambiguous ("1,234" means 1.234 to one
 * person and 1234 to the next, and guessing would be wrong by a factor of a thousand). A space
 * counts only between groups of three, so that "12 50" is never taken for 1250.
 */
export function readTypedNumber(text: string, digits: number): Reading {
  const compact = text.normalize("NFKC").replace(invisible, "").trim();
  if (compact === "") return "empty";
  const negative = /^(?:[-−–].*|\(.*\)|.*[-−])$/u.test(compact);
  const plain = compact
    .replace(/^[-−–(+]\s*|\s*[-−)]$/gu, "")
    .replace(spacedGroups, (groups) => groups.replace(/\D/g, ""));
  if (/^\d+$/.test(plain)) return { negative, whole: trimZeros(plain), fraction: "" };

  const [, whole = "", fraction = ""] = oneMark.exec(plain) ?? [];
  const looksGrouped = /^[1-9]\d{0,2}$/.test(whole) && fraction.length === 3;
  if (fraction !== "" && !looksGrouped) return { negative, whole: trimZeros(whole), fraction };
  if (looksGrouped && digits >= 3) return { negative, whole, fraction };
  if (looksGrouped && digits > 0) return "ambiguous";
  const groups = markedGroups.exec(plain);
  if (!groups) return "not-a-number";
  return { negative, whole: groups[1]!.replace(/\D/g, ""), fraction: groups[3] ?? "" };
}

const trimZeros = (digits: string) => digits.replace(/^0+(?=\d)/, "") || "0";
