import type { Transaction } from "../client.ts";
import { fetchDeclared } from "../snapshot.ts";
import type { ArchivedTable } from "./tables.ts";

export const columnsWithout = ({ without = {} }: ArchivedTable): string[] => Object.keys(without);

/** Counts the rows that went by. */
export interface RowCount {
  rows: number;
}

/** The rows of a table as one JSON array with a line for each, in pieces. */
export async function* tableText(
  tx: Transaction,
  table: ArchivedTable,
  count: RowCount,
): AsyncGenerator<string, void> {
  await tx.$executeRaw`
    SELECT open_archive_rows(${table.name}, ${[...table.order]}::text[], ${columnsWithout(table)}::text[])`;
  yield "[";
  for await (const rows of fetchDeclared<{ line: string }>(tx)) {
    const start = count.rows === 0 ? "\n" : ",\n";
    count.rows += rows.length;
    yield start + rows.map(({ line }) => line).join(",\n");
  }
  yield "\n]\n";
}

/** What stands on each account that was ever used, by key: debit above zero, as text. */
export async function accountSums(tx: Transaction): Promise<Record<string, string>> {
  const rows = await tx.$queryRaw<{ key: string; sum: string }[]>`
    SELECT account_key AS key, sum(amount)::text AS sum FROM posting
    GROUP BY account_key ORDER BY account_key COLLATE "C"`;
  return Object.fromEntries(rows.map(({ key, sum }) => [key, sum]));
}

/** The newest migration: rows fit the tables that it made. */
export async function newestTables(tx: Transaction): Promise<string> {
  const [row] = await tx.$queryRaw<{ name: string }[]>`
    SELECT max(migration_name) AS name FROM _prisma_migrations WHERE finished_at IS NOT NULL`;
  return row?.name ?? "";
}
