import { mostItemsAtOnce } from "../../contract/item.ts";
import type { ItemDetails } from "../../rules/item.ts";
import { type FieldError, ok, type Result } from "../../rules/problem.ts";
import type { PriceRules } from "../../rules/sale-rules.ts";
import { type Fields, textOf } from "./fields.ts";
import { readItem, wrongFields } from "./form.ts";

/** So many rows stand on a fresh page, and so many more come each time. */
export const firstRows = 20;
const mostRows = mostItemsAtOnce;
const manyRows = Array.from({ length: mostRows }, (_, row) => row);

/** What each row says for itself; an empty one takes what is said for all. */
const ownFields = ["description", "colours", "size", "price", "quantity"] as const;

/** How many rows the page shows: as many as it had, more when they are asked for, never too few. */
export function rowCountOf(fields: Fields): number {
  const had = Number(/^\d{1,3}$/.exec(textOf(fields, "rowCount"))?.[0] ?? firstRows);
  const filled = manyRows.filter((row) => !isEmptyRow(fields, row)).at(-1) ?? 0;
  const wanted = textOf(fields, "go") === "rows" ? had + firstRows : had;
  return Math.min(mostRows, Math.max(firstRows, wanted, filled + 1));
}

export const isEmptyRow = (fields: Fields, row: number): boolean =>
  ownFields.every((name) => cell(fields, row, name) === "");

/** Several items that share kind, fibres and care. Rows without a word are left out. */
export interface ManyItems {
  items: ItemDetails[];
  /** For each item, its row on the form. */
  rows: number[];
}

/** Reads every filled row; a fault is named in its row, a fault of what they share only once. */
export function readItems(fields: Fields, rules: PriceRules): Result<ManyItems> {
  const rows = manyRows.filter((row) => !isEmptyRow(fields, row));
  if (rows.length === 0)
    return wrongFields([
      { field: "rows.0.colours", message: "Fill in at least one row: one row for each piece." },
    ]);
  const errors: FieldError[] = [];
  const items: ItemDetails[] = [];
  for (const row of rows) {
    const item = readItem(rowFields(fields, row), rules);
    if (item.ok) items.push(item.value);
    else errors.push(...item.problem.errors.map((error) => inRow(error, fields, row)));
  }
  return errors.length === 0 ? ok({ items, rows }) : wrongFields(errors);
}

const cell = (fields: Fields, row: number, name: string): string =>
  textOf(fields, `rows.${row}.${name}`);

function rowFields(fields: Fields, row: number): Fields {
  const own = ownFields.map((name) => [name, cell(fields, row, name) || textOf(fields, name)]);
  return { ...fields, ...Object.fromEntries(own) };
}

/** A row is to blame for what it says itself, and for a price that neither it nor all rows name. */
function inRow({ field, message }: FieldError, fields: Fields, row: number): FieldError {
  const own = ownFields.find((name) => name === field);
  const shared = !own || (cell(fields, row, own) === "" && textOf(fields, own) !== "");
  return shared
    ? { field, message }
    : { field: `rows.${row}.${field}`, message: `Row ${row + 1}: ${message}` };
}

/** The action counts the items; the person sees the rows of the form. */
export function rowErrors(
  errors: readonly FieldError[],
  { rows }: ManyItems,
  fields: Fields,
): FieldError[] {
  return errors.map((error) => {
    const [list, index, ...rest] = error.field.split(".");
    const row = rows[Number(index)];
    if (list !== "items" || row === undefined) return error;
    return inRow({ field: rest.join("."), message: error.message }, fields, row);
  });
}
