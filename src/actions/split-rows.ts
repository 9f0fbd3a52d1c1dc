import { CsvError, parse } from "csv-parse/sync";
import { separatorOf } from "../rules/member-list.ts";
import { ok, type Result, refuseField } from "../rules/problem.ts";

/** A row of a pasted list, with the line on which a spreadsheet counts it. */
export type Cells = { record: string[]; info: { lines: number } };

/** Takes a list apart that came from a spreadsheet: comma, semicolon or tab between the columns. */
export function splitRows(text: string): Result<Cells[]> {
  try {
    const rows = parse(text, {
      bom: true,
      delimiter: separatorOf(text),
      info: true,
      trim: true,
      relax_column_count: true,
      skip_empty_lines: true,
      skip_records_with_empty_values: true,
    });
    return ok(rows as unknown as Cells[]);
  } catch (error) {
    if (!(error instanceof CsvError)) throw error;
    const line = "lines" in error ? ` near line ${String(error.lines)}` : "";
    return refuseField(
      "text",
      `A quotation mark${line} is not closed or stands in the wrong place, so the rows cannot be told apart.`,
    );
  }
}
