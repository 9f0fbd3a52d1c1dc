import { CsvError, parse } from "csv-parse/sync";
import { pastedCells } from "../rules/item-list/pasted-cells.ts";
import { separatorOf } from "../rules/member-list.ts";
import { ok, type Result, refuseField } from "../rules/problem.ts";

/** A row of a pasted list, with the number that a spreadsheet gives it. */
export type Cells = { record: string[]; row: number };

/** Takes a list apart that came from a spreadsheet: comma, semicolon or tab between the columns. */
export function splitRows(text: string): Result<Cells[]> {
  const delimiter = separatorOf(text);
  const records = delimiter === "\t" ? ok(pastedCells(text)) : parsed(text, delimiter);
  if (!records.ok) return records;
  const rows = records.value.map((record, index) => ({ record, row: index + 1 }));
  return ok(rows.filter(({ record }) => record.some((cell) => cell !== "")));
}

function parsed(text: string, delimiter: string): Result<string[][]> {
  try {
    return ok(
      parse(text, {
        bom: true,
        delimiter,
        trim: true,
        relax_column_count: true,
        // A cell such as 12" wide keeps its mark without being quoted.
        relax_quotes: true,
      }),
    );
  } catch (error) {
    if (!(error instanceof CsvError)) throw error;
    const line = "lines" in error ? ` near line ${String(error.lines)}` : "";
    return refuseField(
      "text",
      `A quotation mark${line} is not closed or stands in the wrong place, so the rows cannot be told apart.`,
    );
  }
}
