import { parseMoney } from "../../rules/currency.ts";
import { type FieldError, type Problem, refuseField } from "../../rules/problem.ts";
import { isId } from "../want-id.ts";
import { type Fields, filledRows, textOf } from "./fields.ts";
import { wrongFields } from "./form.ts";

export const mostAgain = 50;

export interface ReadAgain {
  items: { itemId: string; price: number }[];
  /** The row of the form for each piece. */
  rows: Map<string, number>;
  problem: Problem | undefined;
}

/** Reads the pieces and their new prices; a price that cannot be read is named in its row. */
export function readAgain(fields: Fields, currency: string): ReadAgain {
  const filled = filledRows(mostAgain, (row) => isId(textOf(fields, `rows.${row}.item`)));
  const errors: FieldError[] = [];
  const rows = new Map<string, number>();
  const items = filled.map((row) => {
    const itemId = textOf(fields, `rows.${row}.item`);
    rows.set(itemId, row);
    const field = `rows.${rows.size - 1}.price`;
    const price = parseMoney(textOf(fields, `rows.${row}.price`), currency, field);
    if (!price.ok) errors.push(...price.problem.errors);
    return { itemId, price: price.ok ? price.value : 0 };
  });
  return { items, rows, problem: problemOf(items.length, errors) };
}

function problemOf(count: number, errors: readonly FieldError[]): Problem | undefined {
  const wrong =
    count === 0
      ? refuseField("item", "Tick at least one piece that you bring again.")
      : wrongFields(errors);
  return errors.length > 0 || count === 0 ? (wrong.ok ? undefined : wrong.problem) : undefined;
}
