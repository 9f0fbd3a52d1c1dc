import type { Making } from "../../database/sold/making.ts";
import { amountText, parseMoney } from "../../rules/currency.ts";
import { ok, type Result, refuseField } from "../../rules/problem.ts";
import { lengthText } from "../../rules/shifts/shift-words.ts";
import { readLength } from "../../rules/shifts/typed-time.ts";
import { type Fields, textOf } from "../items/fields.ts";

/** Reads hours and materials of one piece; what stays empty is not known. */
export function readMaking(fields: Fields, currency: string) {
  return { minutes: readMinutes(fields), materials: readMaterials(fields, currency) };
}

function readMinutes(fields: Fields): Result<number | null> {
  const text = textOf(fields, "minutes");
  if (text === "") return ok(null);
  const minutes = readLength(text);
  return minutes === undefined || minutes === 0
    ? refuseField("minutes", "Type hours and minutes, such as 2:30 or 45 min.")
    : ok(minutes);
}

function readMaterials(fields: Fields, currency: string): Result<number | null> {
  const text = textOf(fields, "materials");
  return text === "" ? ok(null) : parseMoney(text, currency, "materials");
}

export const makingValues = ({ minutes, materials }: Making, currency: string) => ({
  minutes: minutes === null ? "" : lengthText(minutes),
  materials: materials === null ? "" : amountText(materials, currency),
});
