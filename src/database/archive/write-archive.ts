import {
  type ArchivedFile,
  archiveFormat,
  archiveVersion,
  type Manifest,
  manifestPath,
  rowsPath,
} from "../../rules/archive.ts";
import type { FrozenStatement } from "../../rules/statement.ts";
import type { Transaction } from "../client.ts";
import { csvOf } from "../exports/csv-export.ts";
import { saleExports } from "../exports/index.ts";
import { membersExport } from "../exports/ledger-exports.ts";
import { exportJournal } from "../journal-export.ts";
import { gatherStatements } from "../statements.ts";
import { accountSums, newestTables, type RowCount, tableText } from "./rows.ts";
import { archived } from "./tables.ts";
import { ZipFile } from "./zip-file.ts";

export interface ArchiveAsked {
  saleId: string;
  madeAt: Date;
  /** Draws a statement as PDF; printing is another room. */
  draw(statement: FrozenStatement): Promise<Uint8Array>;
}

type Content = AsyncIterable<string | Uint8Array> | Iterable<string | Uint8Array>;
type Part = { path: string; content: Content; count?: RowCount };

/**
 * The archive of a sale, in pieces: the rows of all tables, the sale's own tables as CSV, its
 * journal and its statements, and a manifest that says of each file what it must be.
 *
 * The rows are those of the whole service. A member's account, tag numbers and statement numbers run
 * on through all sales, so the rows of one sale alone would need invented figures for what came
 * before, and books with invented figures are not the same books.
 */
export async function* writeArchive(
  tx: Transaction,
  asked: ArchiveAsked,
): AsyncGenerator<Uint8Array, void> {
  const zip = new ZipFile();
  const files: ArchivedFile[] = [];
  for await (const { path, content, count } of partsOf(tx, asked)) {
    const file = yield* zip.add(path, content);
    files.push({ ...file, rows: count?.rows ?? null });
  }
  files.sort((a, b) => (a.path < b.path ? -1 : 1));
  const manifest = `${JSON.stringify(await manifestOf(tx, asked, files), null, 2)}\n`;
  yield* zip.add(manifestPath, [manifest]);
  yield* zip.end();
}

async function* partsOf(tx: Transaction, { saleId, draw }: ArchiveAsked): AsyncGenerator<Part> {
  yield { path: "read-me.txt", content: [readMe] };
  for (const table of archived) {
    const count = { rows: 0 };
    yield { path: rowsPath(table.name), content: tableText(tx, table, count), count };
  }
  for (const one of [...saleExports, membersExport])
    yield { path: `csv/${one.name}.csv`, content: csvOf(tx, one, saleId) };
  yield { path: "sale.journal", content: exportJournal(tx, saleId) };
  const settlements = await tx.settlement.findMany({
    where: { saleId },
    orderBy: { number: "asc" },
  });
  for (const { id } of settlements) {
    // A settlement at a time: nobody has more than some hundred statements in one.
    for (const statement of await gatherStatements(tx, { settlementId: id }))
      yield { path: pdfPath(statement), content: drawn(draw(statement)) };
  }
}

const pdfPath = ({ number, heading }: FrozenStatement): string =>
  `statements/statement-${number}-member-${heading.memberNumber}.pdf`;

async function* drawn(page: Promise<Uint8Array>): AsyncGenerator<Uint8Array> {
  yield await page;
}

async function manifestOf(
  tx: Transaction,
  { saleId, madeAt }: ArchiveAsked,
  files: ArchivedFile[],
): Promise<Manifest> {
  const { name, currency, timeZone } = await tx.guild.findFirstOrThrow();
  const sale = await tx.sale.findUniqueOrThrow({ where: { id: saleId } });
  const day = (date: Date) => date.toISOString().slice(0, 10);
  return {
    format: archiveFormat,
    version: archiveVersion,
    tables: await newestTables(tx),
    madeAt: madeAt.toISOString(),
    guild: { name, currency, timeZone },
    sale: {
      ...{ id: saleId, name: sale.name },
      ...{ firstDay: day(sale.firstDay), lastDay: day(sale.lastDay) },
    },
    accounts: await accountSums(tx),
    files,
  };
}

const readMe = `This is the archive of a guild sale.

csv/           tables for a spreadsheet
sale.journal   the books of the sale as plain text, for accounting programs
statements/    each member's statement, as PDF
rows/          every row of the service, exact: amounts in the smallest coin as text, times in UTC
manifest.json  what each file must be: its length and its SHA-256

A service that is still empty can take the archive back and then has the same books.
Members' names, e-mail addresses and phone numbers are in it: keep it as you keep the books.
Pass phrases, numbers for the tills, links, bank accounts, paying runs and buyers' addresses are not.
`;
