import { enterFromSheetShape, mostRuns } from "../../contract/warp-sheet.ts";
import { parseMoney } from "../../rules/currency.ts";
import { type FieldError, ok, type Problem, type Result } from "../../rules/problem.ts";
import { agreedTo } from "../items/agreement.ts";
import { inItsRow } from "../items/fibre-rows.ts";
import { type Fields, filledRows, textOf, ticked } from "../items/fields.ts";
import { wrongFields } from "../items/form.ts";
import type { Scene } from "../items/scene.ts";

type Read = ReturnType<typeof enterFromSheetShape.parse>;

/** The rows of the form that are ticked; each is a run of the sheet. */
const tickedRows = (fields: Fields): number[] =>
  filledRows(mostRuns, (row) => ticked(fields, `rows.${row}.on`));

export function readSheetEntry(fields: Fields, { sale, currency }: Scene): Result<Read> {
  const rows = tickedRows(fields);
  const errors: FieldError[] = [];
  const read = rows.map((row, index) => {
    const text = (cell: string) => textOf(fields, `rows.${row}.${cell}`);
    const price = parseMoney(text("price"), currency, `rows.${index}.price`);
    if (!price.ok) errors.push(...price.problem.errors);
    return {
      run: row,
      count: /^\d{1,4}$/.test(text("count")) ? Number(text("count")) : Number.NaN,
      tagging: text("tagging"),
      ...{ kind: text("kind"), description: text("description"), colours: text("colours") },
      ...{ size: text("size"), price: price.ok ? price.value : 0 },
      markdown: ticked(fields, "markdown"),
    };
  });
  const shape = enterFromSheetShape.safeParse({
    ...{ saleId: sale.id, rows: read, agreementVersion: agreedTo(fields) },
    version: Number(/^\d{1,9}$/.exec(textOf(fields, "version"))?.[0] ?? 0),
  });
  const found = (shape.error?.issues ?? []).map(({ path, message }) => ({
    field: path.join("."),
    message,
  }));
  const all = [...errors, ...found];
  if (shape.success && all.length === 0) return ok(shape.data);
  return wrongFields(entryErrors(all, fields));
}

const shownCells = ["on", "count", "tagging", "kind", "description", "colours", "size", "price"];

/** Names the field of the form; what no field of a row says is told at its tick. */
function entryErrors(errors: readonly FieldError[], fields: Fields): FieldError[] {
  return errors.map((error) => {
    if (error.field === "rows") return { ...error, field: "rows.0.on" };
    const placed = inItsRow(error, "rows", tickedRows(fields));
    const [list, row, cell = ""] = placed.field.split(".");
    const shown = list !== "rows" || shownCells.includes(cell);
    return shown ? placed : { field: `rows.${row}.on`, message: placed.message };
  });
}

/** A refusal of the action, at the fields of the form. */
export function entryProblem(problem: Problem, fields: Fields): Problem {
  const first = wrongFields(entryErrors(problem.errors, fields));
  const errors = first.ok ? [] : first.problem.errors.filter(({ field }) => field !== "items");
  return { ...problem, errors };
}
