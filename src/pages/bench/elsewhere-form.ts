import { type ElsewhereInput, elsewhereShape } from "../../contract/elsewhere.ts";
import type { ElsewhereRead } from "../../database/sold/elsewhere.ts";
import { amountText, parseMoney, parseRate, rateText } from "../../rules/currency.ts";
import { ok, type Result, refuseField } from "../../rules/problem.ts";
import { readDay } from "../../rules/shifts/typed-time.ts";
import { fibreValues, inItsRow, readFibreRows } from "../items/fibre-rows.ts";
import { type Fields, textOf } from "../items/fields.ts";
import { wrongFields } from "../items/form.ts";
import { makingValues, readMaking } from "./making-fields.ts";

interface Region {
  currency: string;
  locale: string;
}

/** Reads the form of a sale elsewhere; every wrong field is named at once. */
export function readElsewhere(
  fields: Fields,
  { currency, locale }: Region,
): Result<ElsewhereInput> {
  const price = parseMoney(textOf(fields, "price"), currency, "price");
  const quantity = readQuantity(fields);
  const kept = readKept(textOf(fields, "kept"), currency);
  const { minutes, materials } = readMaking(fields, currency);
  const { fibres, rows } = readFibreRows(fields, "fibres");
  const orUse = <T>(result: Result<T>, instead: T) => (result.ok ? result.value : instead);
  const shape = elsewhereShape.safeParse({
    ...{ outlet: textOf(fields, "outlet"), kind: textOf(fields, "kind") },
    ...{ description: textOf(fields, "description"), colours: textOf(fields, "colours") },
    day: readDay(textOf(fields, "day"), locale) ?? "",
    ...{ fibres, quantity: orUse(quantity, 1), price: orUse(price, 0) },
    // Against a price that could not be read nothing can be said about what was kept of it.
    ...(price.ok && quantity.ok ? orUse(kept, {}) : {}),
    ...{ minutes: orUse(minutes, null), materials: orUse(materials, null) },
    itemId: textOf(fields, "itemId") || null,
  });
  const errors = [
    ...[price, quantity, kept, minutes, materials].flatMap((one) =>
      one.ok ? [] : one.problem.errors,
    ),
    ...(shape.error?.issues ?? []).map(({ path, message }) => ({
      field: path.join("."),
      message,
    })),
  ].map((error) => formField(error, rows));
  return shape.success && errors.length === 0 ? ok(shape.data) : wrongFields(errors);
}

/** The form has one field for what was kept, and its fibres in rows that may stay empty. */
export const formField = (error: { field: string; message: string }, rows: readonly number[]) =>
  /^kept(Rate|Amount)$/.test(error.field)
    ? { ...error, field: "kept" }
    : inItsRow(error, "fibres", rows);

function readQuantity(fields: Fields): Result<number> {
  const text = textOf(fields, "quantity").normalize("NFKC");
  if (text === "") return ok(1);
  return /^\d{1,6}$/.test(text)
    ? ok(Number(text))
    : refuseField("quantity", "Type a whole number, for example 1.");
}

/** "30 %" is a percentage; anything else is an amount for all together; nothing is nothing. */
function readKept(
  text: string,
  currency: string,
): Result<Partial<Pick<ElsewhereInput, "keptRate" | "keptAmount">>> {
  if (text === "") return ok({});
  const isRate = /[%％]\s*$/.test(text);
  const read = isRate ? parseRate(text, "kept") : parseMoney(text, currency, "kept");
  if (!read.ok) return read;
  return ok(isRate ? { keptRate: read.value } : { keptAmount: read.value });
}

/** A note as it stands in the form's fields. */
export function elsewhereValues(one: ElsewhereRead, currency: string): Record<string, string> {
  const { keptRate, keptAmount, day, outlet, kind, description, colours } = one;
  return {
    ...{ day, outlet, kind, description, colours, quantity: String(one.quantity) },
    price: amountText(one.price, currency),
    kept:
      keptRate !== null
        ? `${rateText(keptRate)} %`
        : keptAmount === null
          ? ""
          : amountText(keptAmount, currency),
    ...makingValues(one, currency),
    ...Object.fromEntries(fibreValues(one.fibres, "fibres")),
    ...{ itemId: one.itemId ?? "", version: String(one.version) },
  };
}
