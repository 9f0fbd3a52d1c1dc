import { mostYarns } from "../../contract/label.ts";
import type { LabelYarn } from "../../rules/labels/details.ts";
import type { FieldError } from "../../rules/problem.ts";
import type { YarnNumber } from "../../rules/weave/yarn-number.ts";
import { fibreValues, inItsRow, readFibreRows } from "./fibre-rows.ts";
import { type Fields, filledRows, textOf, thousandthsOf, thousandthsText } from "./fields.ts";

const name = "label.yarns";

export interface ReadYarns {
  yarns: LabelYarn[];
  rows: number[];
  blendRows: number[][];
}

/** Warp and weft yarns; a row counts when it has an amount or a fibre. */
export function readYarnRows(fields: Fields): ReadYarns {
  const at = (row: number, cell: string) => textOf(fields, `${name}.${row}.${cell}`);
  const blendOf = (row: number) => readFibreRows(fields, `${name}.${row}.blend`);
  const rows = filledRows(
    mostYarns,
    (row) => at(row, "amount") !== "" || blendOf(row).fibres.length > 0,
  );
  const yarns = rows.map((row): LabelYarn => {
    const unit = at(row, "unit") as LabelYarn["amount"]["unit"];
    const typed = at(row, "number");
    const number: YarnNumber = {
      system: at(row, "system") as YarnNumber["system"],
      thousandths: thousandthsOf(typed),
      plies: /^\d{1,2}$/.test(at(row, "plies")) ? Number(at(row, "plies")) : 1,
    };
    return {
      place: at(row, "place") as LabelYarn["place"],
      amount: { unit, thousandths: thousandthsOf(at(row, "amount")) },
      number: typed === "" ? null : number,
      blend: blendOf(row).fibres,
    };
  });
  return { yarns, rows, blendRows: rows.map((row) => blendOf(row).rows) };
}

export const yarnValues = (yarns: readonly LabelYarn[]): [string, string][] =>
  yarns.flatMap(({ place, amount, number, blend }, row): [string, string][] => [
    [`${name}.${row}.place`, place],
    [`${name}.${row}.amount`, thousandthsText(amount.thousandths)],
    [`${name}.${row}.unit`, amount.unit],
    [`${name}.${row}.number`, number ? thousandthsText(number.thousandths) : ""],
    [`${name}.${row}.plies`, number ? String(number.plies) : ""],
    [`${name}.${row}.system`, number?.system ?? ""],
    ...fibreValues(blend, `${name}.${row}.blend`),
  ]);

/** Names the field of the form that a fault of the shape or the rules belongs to. */
export function yarnError(error: FieldError, { rows, blendRows }: ReadYarns): FieldError {
  if (!error.field.startsWith(`${name}.`)) return error;
  let placed = error;
  blendRows.forEach((blend, index) => {
    placed = placed === error ? inItsRow(error, `${name}.${index}.blend`, blend) : placed;
  });
  const field = placed.field
    .replace(/\.(amount|number)\.thousandths$/, ".$1")
    .replace(/\.(?:amount|number)\.(unit|system|plies)$/, ".$1");
  return inItsRow({ field, message: error.message }, name, rows);
}
