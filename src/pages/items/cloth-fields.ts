import type { Cloth } from "../../rules/labels/cautions/flame.ts";
import { type Fields, textOf, thousandthsOf, thousandthsText } from "./fields.ts";

/** One inch is 25.4 mm; one ounce is 28.349523125 g (the pound and the yard as fixed in 1959). */
const inMillimetres = { cm: { top: 10, bottom: 1 }, in: { top: 254, bottom: 10 } } as const;
const ounceInNanograms = 28_349_523_125n;

/** Weight and size as typed, in whole milligrams and millimetres; null when nothing was typed. */
export function clothFields(fields: Fields): Cloth | null {
  const [weight, length, width] = ["weight", "length", "width"].map((name) =>
    textOf(fields, `cloth.${name}`),
  );
  if (!weight && !length && !width) return null;
  const { top, bottom } = inMillimetres[textOf(fields, "cloth.unit") === "in" ? "in" : "cm"];
  const millimetres = (text = "") =>
    Number((BigInt(thousandthsOf(text)) * BigInt(top)) / BigInt(bottom * 1_000));
  const typed = BigInt(thousandthsOf(weight ?? ""));
  const ounces = textOf(fields, "cloth.weightUnit") === "oz";
  // Whole milligrams, always rounded down: a cloth is never taken for heavier than it is.
  const milligrams = ounces ? (typed * ounceInNanograms) / 1_000_000_000n : typed;
  return {
    milligrams: Number(milligrams),
    length: millimetres(length),
    width: millimetres(width),
  };
}

export const clothValues = (cloth: Cloth | null): Record<string, string> =>
  cloth
    ? {
        "cloth.weight": thousandthsText(cloth.milligrams),
        "cloth.weightUnit": "g",
        "cloth.length": thousandthsText(cloth.length * 100),
        "cloth.width": thousandthsText(cloth.width * 100),
        "cloth.unit": "cm",
      }
    : {};
