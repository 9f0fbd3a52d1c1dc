import { amountText, parseMoney } from "../../rules/currency.ts";
import type { FieldError } from "../../rules/problem.ts";
import { readTypedNumber } from "../../rules/typed-number.ts";
import {
  lengthUnits,
  type Measure,
  readMeasure,
  type Unit,
  type Weight,
  weightUnits,
} from "../../rules/weave/measure.ts";
import type { SheetYarn } from "../../rules/weave/sheet.ts";
import { fibreValues, readFibreRows } from "../items/fibre-rows.ts";
import { type Fields, textOf, thousandthsText } from "../items/fields.ts";

const exactUnits: readonly string[] = [...lengthUnits, ...weightUnits];

/** A figure with the unit beside it, as lists offer them; null when nothing was typed. */
export function measureWithUnit(fields: Fields, name: string): Measure | null {
  const text = textOf(fields, name);
  if (text === "") return null;
  const chosen = textOf(fields, `${name}Unit`);
  const unit = chosen as Unit;
  const nothing = { thousandths: Number.NaN, unit };
  return exactUnits.includes(chosen) ? (readMeasure(text, unit) ?? nothing) : nothing;
}

export const withUnitValues = (
  name: string,
  measure: Measure | null,
  usual: Unit,
): [string, string][] => [
  [name, measure ? thousandthsText(measure.thousandths) : ""],
  [`${name}Unit`, measure?.unit ?? usual],
];

/** "100 g" as one choice of a list: its thousandths and its unit. */
export const perValue = ({ thousandths, unit }: Weight): string => `${thousandths} ${unit}`;

function perOf(text: string): Weight {
  const [, thousandths, unit] = /^(\d{1,9}) (oz|lb|g|kg)$/.exec(text) ?? [];
  return { thousandths: Number(thousandths ?? Number.NaN), unit: (unit ?? "lb") as Weight["unit"] };
}

interface ReadYarn {
  yarn: SheetYarn;
  blendRows: number[];
  errors: FieldError[];
}

/** Reads one yarn. Whatever it cannot read as a number is left for the shape to name. */
export function readYarn(fields: Fields, at: string, currency: string): ReadYarn {
  const text = (cell: string) => textOf(fields, `${at}.${cell}`);
  const blend = readFibreRows(fields, `${at}.blend`);
  const typed = text("price");
  const price = typed === "" ? null : parseMoney(typed, currency, `${at}.price`);
  const yarn: SheetYarn = {
    name: text("name"),
    number: numberOf(text("number"), text("plies"), text("system")),
    yardage:
      text("yardage") === ""
        ? null
        : {
            unit: text("yardageUnit") as "yd/lb",
            thousandths: figureOf(text("yardage"), 0),
          },
    blend: blend.fibres,
    price: price && { amount: price.ok ? price.value : 0, per: perOf(text("per")) },
    have: measureWithUnit(fields, `${at}.have`) as Weight | null,
    soldBy: measureWithUnit(fields, `${at}.soldBy`) as Weight | null,
  };
  return { yarn, blendRows: blend.rows, errors: price && !price.ok ? price.problem.errors : [] };
}

/**
 * "8" with 2 plies; also "8/2" in one field, as it stands on the cone. Worsted has the plies first
 * ("2/18"), all others last.
 */
function numberOf(typed: string, typedPlies: string, chosen: string): SheetYarn["number"] {
  if (typed === "") return null;
  const system = chosen as NonNullable<SheetYarn["number"]>["system"];
  const [, first, second] = /^(\d{1,5}(?:[.,]\d{1,3})?)\s*\/\s*(\d{1,5})$/.exec(typed) ?? [];
  if (first === undefined || second === undefined)
    return { system, thousandths: figureOf(typed, 3), plies: wholeOf(typedPlies || "1") };
  return system === "worsted"
    ? { system, thousandths: figureOf(second, 3), plies: wholeOf(first) }
    : { system, thousandths: figureOf(first, 3), plies: wholeOf(second) };
}

const wholeOf = (text: string): number => (/^\d{1,2}$/.test(text) ? Number(text) : Number.NaN);

/** `digits` as in `readTypedNumber`: a length in a pound has none, so "3,360" is 3360. */
function figureOf(text: string, digits: number): number {
  const typed = readTypedNumber(text, digits);
  if (typeof typed === "string" || typed.negative) return Number.NaN;
  if (typed.fraction.length > 3 || typed.whole.length > 6) return Number.NaN;
  return Number(typed.whole + typed.fraction.padEnd(3, "0"));
}

/** A yarn as it stands in the fields of the form. */
export function yarnValues(yarn: SheetYarn, at: string, currency: string, metric: boolean) {
  const { name, number, yardage, blend, price, have, soldBy } = yarn;
  const usual = metric ? "g" : "oz";
  return Object.fromEntries([
    [`${at}.name`, name],
    [`${at}.number`, number ? thousandthsText(number.thousandths) : ""],
    [`${at}.plies`, number ? String(number.plies) : ""],
    [`${at}.system`, number?.system ?? (metric ? "metric" : "cotton")],
    [`${at}.yardage`, yardage ? thousandthsText(yardage.thousandths) : ""],
    [`${at}.yardageUnit`, yardage?.unit ?? (metric ? "m/kg" : "yd/lb")],
    [`${at}.price`, price ? amountText(price.amount, currency) : ""],
    [`${at}.per`, price ? perValue(price.per) : metric ? "100000 g" : "1000 lb"],
    ...withUnitValues(`${at}.have`, have, usual),
    ...withUnitValues(`${at}.soldBy`, soldBy, usual),
    ...fibreValues(blend, `${at}.blend`),
  ]) as Record<string, string>;
}
