import { itemShape } from "../../contract/item.ts";
import { parseMoney } from "../../rules/currency.ts";
import type { Fibre } from "../../rules/fibre.ts";
import { checkItem, type ItemDetails } from "../../rules/item.ts";
import { type FieldError, ok, problem, type Result, refuseField } from "../../rules/problem.ts";
import type { PriceRules } from "../../rules/sale-rules.ts";

export type Fields = Readonly<Record<string, unknown>>;

/** A form is fixed at this many fibres, so that it works without any script. */
export const fibreRows = [0, 1, 2, 3, 4];

/** One field of a form; a field that was sent twice or not at all counts as empty. */
export const textOf = (fields: Fields, name: string): string => {
  const value = Object.hasOwn(fields, name) ? fields[name] : "";
  return typeof value === "string" ? value.trim() : "";
};

/**
 * Reads the form of one item. Whatever is wrong is named at once: what cannot be read as a number,
 * what the shape does not take and what the sale's rules refuse, one message for each field.
 */
export function readItem(fields: Fields, rules: PriceRules): Result<ItemDetails> {
  const price = parseMoney(textOf(fields, "price"), rules.currency, "price");
  const quantity = readCount(fields, "quantity");
  const piecesInSet = readCount(fields, "piecesInSet");
  const { fibres, rows } = readFibres(fields);
  const item: ItemDetails = {
    ...wordsOf(fields),
    fibres,
    price: price.ok ? price.value : 0,
    quantity: quantity.ok ? quantity.value : 0,
    piecesInSet: piecesInSet.ok ? piecesInSet.value : 0,
    donated: textOf(fields, "donated") === "yes",
  };
  const shape = itemShape.safeParse(item);
  const errors = [
    ...[price, quantity, piecesInSet].flatMap((one) => (one.ok ? [] : one.problem.errors)),
    ...(shape.error?.issues ?? []).map((issue) => ({
      field: issue.path.join("."),
      message: issue.message,
    })),
    ...checkItem(item, rules),
  ].map(({ field, message }) => ({ field: inItsRow(field, rows), message }));
  return errors.length === 0 ? ok(item) : wrongFields(inFormOrder(errors));
}

/** The summary names the fields in the order in which they stand on the form. */
const formOrder = ["kind", "description", "price", "quantity", "fibres", "care", "size"];

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
  care: textOf(fields, "care"),
});

/** An empty field means one: most pieces are single. */
function readCount(fields: Fields, name: string): Result<number> {
  const text = textOf(fields, name).normalize("NFKC");
  if (text === "") return ok(1);
  return /^\d{1,6}$/.test(text)
    ? ok(Number(text))
    : refuseField(name, "Type a whole number, for example 1.");
}

/** Empty rows are left out; a single fibre without a percentage is the whole piece. */
function readFibres(fields: Fields): { fibres: Fibre[]; rows: number[] } {
  const cells = (row: number) => ({
    fibre: textOf(fields, `fibres.${row}.fibre`),
    percent: textOf(fields, `fibres.${row}.percent`).normalize("NFKC").replace(/\s*%$/, ""),
  });
  const rows = fibreRows.filter((row) => cells(row).fibre !== "" || cells(row).percent !== "");
  const fibres = rows.map((row) => {
    const { fibre, percent } = cells(row);
    if (percent === "") return { fibre, percent: rows.length === 1 ? 100 : 0 };
    return { fibre, percent: /^\d{1,3}$/.test(percent) ? Number(percent) : 0 };
  });
  return { fibres, rows };
}

/** The rules count the filled rows; the person sees the rows of the form. */
function inItsRow(field: string, rows: readonly number[]): string {
  const [list, index, cell] = field.split(".");
  return list === "fibres" && cell ? `fibres.${rows[Number(index)]}.${cell}` : field;
}
