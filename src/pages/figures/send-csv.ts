import type { Reply } from "../../plugins/types.ts";
import { type CsvCell, csvText } from "../../rules/csv.ts";
import { amountText } from "../../rules/currency.ts";

/** An amount as a figure, which no guard against formulas may touch. */
export const figure = (amount: number, currency: string): CsvCell => ({
  figure: amountText(amount, currency),
});

/** A table as a file for spreadsheets, in UTF-8. */
export const sendCsv = (reply: Reply, name: string, rows: readonly (readonly CsvCell[])[]) =>
  reply
    .type("text/csv; charset=utf-8")
    .header("content-disposition", `attachment; filename="${name}"`)
    .send(csvText(rows));
