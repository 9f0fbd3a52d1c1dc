import { itemShape } from "../../contract/item.ts";
import { parseMoney } from "../../rules/currency.ts";
import { checkItem, type ItemDetails } from "../../rules/item.ts";
import type { LabelDetails } from "../../rules/labels/details.ts";
import { type FieldError, ok, problem, type Result, refuseField } from "../../rules/problem.ts";
import type { PriceRules } from "../../rules/sale-rules.ts";
import { inItsRow, readFibreRows } from "./fibre-rows.ts";
import { type Fields, textOf, ticked } from "./fields.ts";
import { readLabel } from "./label-form.ts";

/**
 * Reads the form of one item. Whatever is wrong is named at once: what cannot be read as a number,
 * what the shape does not take and what the sale's rules refuse, one message for each field.
 */
export function readItem(
  fields: Fields,
  rules: PriceRules,
  kept: Partial<LabelDetails> = {},
): Result<ItemDetails> {
  const price = parseMoney(textOf(fields, "price"), rules.currency, "price");
  const quantity = readCount(fields, "quantity");
  const piecesInSet = readCount(fields, "piecesInSet");
  const { fibres, rows } = readFibreRows(fields, "fibres");
  const { label, place } = readLabel(fields, kept);
  const item: ItemDetails = {
    ...wordsOf(fields),
    ...{ fibres, label },
    price: price.ok ? price.value : 0,
    quantity: quantity.ok ? quantity.value : 0,
    piecesInSet: piecesInSet.ok ? piecesInSet.value : 0,
    donated: ticked(fields, "donated"),
    markdown: ticked(fields, "markdown"),
  };
  const shape = itemShape.safeParse(item);
  const errors = [
    ...[price, quantity, piecesInSet].flatMap((one) => (one.ok ? [] : one.problem.errors)),
    ...(shape.error?.issues ?? []).map((issue) => ({
      field: issue.path.join("."),
      message: issue.message,
    })),
    ...checkItem(item, rules),
  ].map((error) => place(inItsRow(error, "fibres", rows)));
  return errors.length === 0 ? ok(item) : wrongFields(inFormOrder(errors));
}

/** The summary names the fields in the order in which they stand on the form. */
const formOrder = ["kind", "description", "price", "quantity", "fibres", "size", "label"];

const inFormOrder = (errors: readonly FieldError[]): FieldError[] => {
  const place = ({ field }: FieldError) => {
    const found = formOrder.indexOf(field.split(".")[0] ?? "");
    return found === -1 ? formOrder.length : found;
  };
  return [...errors].sort((one, other) => place(one) - place(other));
};

/** Keeps the first message for each field: the first one says what to do first. */
export function wrongFields(errors: readonly FieldError[]): Result<never> {
  const first = errors.filter(
    ({ field }, index) => errors.findIndex((other) => other.field === field) === index,
  );
  const detail = "Nothing was recorded yet. What you typed is still here.";
  return { ok: false, problem: problem("invalid-input", detail, first) };
}

const wordsOf = (fields: Fields) => ({
  kind: textOf(fields, "kind"),
  description: textOf(fields, "description"),
  technique: textOf(fields, "technique"),
  size: textOf(fields, "size"),
  colours: textOf(fields, "colours"),
});

/** An empty field means one: most pieces are single. */
function readCount(fields: Fields, name: string): Result<number> {
  const text = textOf(fields, name).normalize("NFKC");
  if (text === "") return ok(1);
  return /^\d{1,6}$/.test(text)
    ? ok(Number(text))
    : refuseField(name, "Type a whole number, for example 1.");
}
