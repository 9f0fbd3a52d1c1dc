import { createHash } from "node:crypto";
import { type Manifest, rowsPath } from "../../rules/archive.ts";
import { runChecks } from "../check-books.ts";
import type { Transaction } from "../client.ts";
import { accountSums, columnsWithout, newestTables, tableText } from "./rows.ts";
import { type ArchivedTable, archived } from "./tables.ts";

/**
 * Writes the rows of an archive into empty tables, past the same guards as ever: counts follow from
 * the movements, a till's numbers run on, entries balance. Gives what is wrong, or undefined.
 */
export async function restoreRows(
  tx: Transaction,
  manifest: Manifest,
  text: (path: string) => string,
): Promise<string | undefined> {
  const tables = await newestTables(tx);
  if (manifest.tables !== tables)
    return `The archive has the tables of ${manifest.tables}, this service those of ${tables}: take it back with the Thrumbook that made it, and update then.`;
  await tx.$executeRaw`SET LOCAL statement_timeout = '300s'`;
  // The guards look rows up one by one in tables that were empty when their plans were made.
  await tx.$executeRaw`SET LOCAL enable_seqscan = off`;
  for (const table of archived) {
    if (table.name === "account") await restoreAccounts(tx, text(rowsPath("account")));
    else if (table.name === "payout") await restorePayouts(tx, text);
    else if (table.written === undefined) await restoreTable(tx, table, text(rowsPath(table.name)));
  }
  // What is checked at the end of a transaction is checked now, before anything is believed.
  await tx.$executeRaw`SET CONSTRAINTS ALL IMMEDIATE`;
  await tx.$executeRaw`SET LOCAL enable_seqscan = on`;
  await tx.$executeRaw`ANALYZE`;
  return (await differingTable(tx, manifest)) ?? (await unsoundBooks(tx, manifest));
}

const restoreTable = (tx: Transaction, table: ArchivedTable, rows: string) =>
  tx.$executeRaw`
    SELECT restore_archive_rows(${table.name}, ${columnsWithout(table)}::text[], ${rows}::json)`;

/** Most accounts were opened by triggers on their members, tills and taxes just now. */
const restoreAccounts = (tx: Transaction, rows: string) => tx.$executeRaw`
  INSERT INTO account SELECT * FROM json_populate_recordset(NULL::account, ${rows}::json)
  ON CONFLICT (key) DO UPDATE SET kind = EXCLUDED.kind, name = EXCLUDED.name`;

/** First tries with their voids, then second tries with theirs: nobody is ever paid twice. */
async function restorePayouts(tx: Transaction, text: (path: string) => string): Promise<void> {
  const [payouts, voids] = [
    linesOf(text(rowsPath("payout"))),
    linesOf(text(rowsPath("payout_void"))),
  ];
  const attempts = payouts.map((line) => JSON.parse(line) as { id: string; attempt: number });
  const attemptOf = new Map(attempts.map(({ id, attempt }) => [id, attempt]));
  const inTurn = (turn: number) => ({
    payout: payouts.filter((_line, index) => attempts[index]?.attempt === turn),
    payout_void: voids.filter((line) => attemptOf.get(JSON.parse(line).payout_id) === turn),
  });
  for (const turn of [...new Set(attemptOf.values())].sort((a, b) => a - b))
    for (const [name, lines] of Object.entries(inTurn(turn)))
      if (lines.length > 0) await restoreTable(tx, { name, order: [] }, `[${lines.join(",")}]`);
}

/** The rows of a table's file, each as it stands on its line. */
const linesOf = (file: string): string[] =>
  file
    .split("\n")
    .map((line) => line.replace(/,$/, ""))
    .filter((line) => line.startsWith("{"));

/** Every table is written out again and must be the same to the byte. */
async function differingTable(tx: Transaction, { files }: Manifest): Promise<string | undefined> {
  for (const table of archived) {
    const hash = createHash("sha256");
    for await (const part of tableText(tx, table, { rows: 0 })) hash.update(part);
    const given = files.find(({ path }) => path === rowsPath(table.name));
    if (given?.sha256 !== hash.digest("hex"))
      return `${rowsPath(table.name)} does not fit the other tables.`;
  }
  return undefined;
}

async function unsoundBooks(tx: Transaction, { accounts }: Manifest): Promise<string | undefined> {
  await tx.$executeRaw`SET LOCAL enable_nestloop = off`;
  const broken = (await runChecks(tx)).checks.find((check) => check.broken !== null);
  if (broken) return `The books in it are not sound. ${broken.words}: ${broken.broken}`;
  const sums = await accountSums(tx);
  const keys = new Set([...Object.keys(sums), ...Object.keys(accounts)]);
  const differs = [...keys].find((key) => sums[key] !== accounts[key]);
  return differs === undefined
    ? undefined
    : `The account ${differs} does not have the sum that the manifest names.`;
}
