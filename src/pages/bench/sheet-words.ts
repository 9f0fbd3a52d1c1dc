import { formatMoney } from "../../rules/currency.ts";
import { type Fraction, fraction, isLess, nearestWhole } from "../../rules/fraction.ts";
import {
  decimalText,
  inBase,
  inUnit,
  type LengthUnit,
  type Measure,
  type Unit,
  type WeightUnit,
} from "../../rules/weave/measure.ts";
import type { Units } from "./sheet-measures.ts";

const short: Record<Unit, string> = {
  ...{ in: "in", cm: "cm", ft: "ft", yd: "yd", m: "m", oz: "oz", lb: "lb", g: "g", kg: "kg" },
  ...{ "per-in": "per in", "per-cm": "per cm" },
  ...{ "oz/sqft": "oz/sq ft", "oz/sqyd": "oz/sq yd", "g/sqm": "g/m²" },
};

const text = (base: Fraction, unit: Unit, decimals: number): string =>
  `${decimalText(inUnit(base, unit), decimals)} ${short[unit]}`;

/** The length of a piece. */
export const lengthText = (metres: Fraction, units: Units): string =>
  units === "metric" ? text(metres, "cm", 1) : text(metres, "in", 1);

/** The length of a warp or of a yarn. */
export const yarnText = (metres: Fraction, units: Units): string =>
  units === "metric" ? text(metres, "m", 2) : text(metres, "yd", 2);

/** The larger unit from a whole one of it on. */
export function weightText(grams: Fraction, units: Units): string {
  const [large, small, decimals]: [WeightUnit, WeightUnit, number] =
    units === "metric" ? ["kg", "g", 1] : ["lb", "oz", 2];
  const isSmall = isLess(inUnit(grams, large), fraction(1));
  return isSmall ? text(grams, small, decimals) : text(grams, large, 3);
}

export const areaText = (gramsPerSquareMetre: Fraction, units: Units): string =>
  units === "metric"
    ? text(gramsPerSquareMetre, "g/sqm", 0)
    : text(gramsPerSquareMetre, "oz/sqyd", 1);

/** "20 × 68 in": width by length as a tag says it, to a half inch or a whole centimetre. */
export function sizeText(width: Fraction, length: Fraction, units: Units): string {
  const unit: LengthUnit = units === "metric" ? "cm" : "in";
  const one = (metres: Fraction) => {
    const figure = inUnit(metres, unit);
    if (unit === "cm") return decimalText(figure, 0);
    const halves = nearestWhole({ top: figure.top * 2n, bottom: figure.bottom });
    return `${halves / 2n}${halves % 2n === 0n ? "" : ".5"}`;
  };
  return `${one(width)} × ${one(length)} ${unit}`;
}

/** What was typed, in the units of the page. */
export const measureText = (measure: Measure, unit: Unit): string => {
  const figure = decimalText(inUnit(inBase(measure), unit), 3).replace(/\.?0+$/, "");
  return `${figure} ${short[unit]}`;
};

/** "1 h 20 min", to the minute. */
export function timeText(minutes: Fraction): string {
  const whole = Number(nearestWhole(minutes));
  const hours = Math.floor(whole / 60);
  const rest = whole % 60;
  if (hours === 0) return `${rest} min`;
  return rest === 0 ? `${hours} h` : `${hours} h ${rest} min`;
}

export const moneyText = (coins: Fraction, guild: { currency: string; locale: string }): string =>
  formatMoney(Number(nearestWhole(coins)), guild.currency, guild.locale);

export const shareText = (share: number): string =>
  `${decimalText(fraction(share, 1_000), 3).replace(/\.?0+$/, "")} %`;
