import { type CsvCell, csvText } from "../../rules/csv.ts";
import { amountText, rateText } from "../../rules/currency.ts";
import { localTimeOf } from "../../rules/zoned-time.ts";
import type { Transaction } from "../client.ts";
import type { Prisma } from "../generated/client.ts";
import { fetchRows } from "../snapshot.ts";

/** How a value of the database stands in a cell: amounts and percentages as plain decimals. */
type ColumnKind = "text" | "count" | "money" | "percent" | "moment" | "day" | "yes";

export interface Column {
  /** The name of the value in the query's rows. */
  key: string;
  head: string;
  kind: ColumnKind;
}

export interface CsvExport {
  /** The file is called so, and the address ends so. */
  name: string;
  title: string;
  /** What it is for, in one plain sentence. */
  words: string;
  columns: readonly Column[];
  /** Rows of a sale in a fixed order; for a list of the whole guild the sale does not count. */
  query(saleId: string): Prisma.Sql;
}

export const column = (key: string, head: string, kind: ColumnKind = "text"): Column => ({
  ...{ key, head, kind },
});

type Value = string | number | bigint | boolean | Date | null;

interface Region {
  currency: string;
  timeZone: string;
}

/** A table as CSV with a line of headings, some rows at a time. */
export async function* csvOf(
  tx: Transaction,
  { columns, query }: CsvExport,
  saleId: string,
): AsyncGenerator<string, void> {
  const guild = await tx.guild.findFirstOrThrow();
  yield csvText([columns.map(({ head }) => head)]);
  for await (const rows of fetchRows<Record<string, Value>>(tx, query(saleId)))
    yield csvText(
      rows.map((row) => columns.map(({ key, kind }) => cellOf(row[key] ?? null, kind, guild))),
    );
}

/** Moments are told as the guild's clocks showed them. */
function cellOf(value: Value, kind: ColumnKind, { currency, timeZone }: Region): CsvCell {
  if (value === null) return null;
  if (kind === "money") return { figure: amountText(Number(value), currency) };
  if (kind === "percent") return { figure: rateText(Number(value)) };
  if (kind === "count") return Number(value);
  if (kind === "yes") return value === true ? "yes" : "no";
  if (!(value instanceof Date)) return String(value);
  if (kind === "day") return value.toISOString().slice(0, 10);
  return localTimeOf(value.toISOString(), timeZone).replace("T", " ");
}
