import { mostFibres } from "../../contract/label.ts";
import type { Fibre } from "../../rules/fibre.ts";
import type { FieldError } from "../../rules/problem.ts";
import { type Fields, filledRows, textOf, ticked } from "./fields.ts";

/** What a list of rows says, and which row of the form each entry came from. */
export interface ReadFibres {
  fibres: Fibre[];
  rows: number[];
}

/** Empty rows are left out; a single fibre without a percentage is the whole of it. */
export function readFibreRows(fields: Fields, name: string): ReadFibres {
  const at = (row: number, cell: string) => textOf(fields, `${name}.${row}.${cell}`);
  const percentAt = (row: number) => at(row, "percent").normalize("NFKC").replace(/\s*%$/, "");
  const rows = filledRows(mostFibres, (row) => at(row, "fibre") !== "" || percentAt(row) !== "");
  const fibres = rows.map((row): Fibre => {
    const percent = percentAt(row);
    const role = at(row, "role");
    const brand = at(row, "brand");
    const wholePart = rows.length === 1 ? 100 : 0;
    return {
      fibre: at(row, "fibre"),
      percent: percent === "" ? wholePart : /^\d{1,3}$/.test(percent) ? Number(percent) : 0,
      ...(brand ? { brand } : {}),
      ...(role ? { role: role as NonNullable<Fibre["role"]> } : {}),
      ...(ticked(fields, `${name}.${row}.bamboo`) ? { madeFrom: "bamboo" as const } : {}),
      ...(ticked(fields, `${name}.${row}.reclaimed`) ? { reclaimed: true } : {}),
    };
  });
  return { fibres, rows };
}

export const fibreValues = (fibres: readonly Fibre[], name: string): [string, string][] =>
  fibres.flatMap(({ fibre, percent, brand, role, madeFrom, reclaimed }, row) => [
    [`${name}.${row}.fibre`, fibre],
    [`${name}.${row}.percent`, String(percent)],
    [`${name}.${row}.brand`, brand ?? ""],
    [`${name}.${row}.role`, role ?? ""],
    [`${name}.${row}.bamboo`, madeFrom ? "yes" : ""],
    [`${name}.${row}.reclaimed`, reclaimed ? "yes" : ""],
  ]);

/** The rules count the filled rows; the person sees the rows of the form. */
export const inItsRow = ({ field, message }: FieldError, name: string, rows: readonly number[]) => {
  const rest = field.startsWith(`${name}.`) ? field.slice(name.length + 1).split(".") : [];
  const row = rows[Number(rest[0])];
  if (row === undefined) return { field, message };
  const cell = rest.slice(1).join(".").replace("madeFrom", "bamboo");
  return { field: [name, row, cell].filter((part) => part !== "").join("."), message };
};
