import type { Readable } from "node:stream";
import { writeArchive } from "../../database/archive/write-archive.ts";
import { type CsvExport, csvOf } from "../../database/exports/csv-export.ts";
import { saleExports } from "../../database/exports/index.ts";
import { membersExport } from "../../database/exports/ledger-exports.ts";
import { exportJournal } from "../../database/journal-export.ts";
import { streamSnapshot } from "../../database/snapshot.ts";
import { notFound } from "../../plugins/errors.ts";
import type { App, Reply } from "../../plugins/types.ts";
import { printFrozen } from "../../printing/statement-words.ts";
import { fileName } from "../../rules/file-name.ts";
import { books, saleNamed, salePlaces, type WithSale } from "./scene.ts";

type WithFile = { Params: { saleId: string; file: string } };

/** What leaves the house: tables for spreadsheets, journals, and the archive of a sale. */
export async function exportPages(app: App): Promise<void> {
  await app.register(ofSale);
  await app.register(ofGuild);
}

async function ofSale(app: App): Promise<void> {
  const { db } = app.parts;

  app.get<WithSale>("/books/:saleId/exports", books, async (request, reply) => {
    const sale = await saleNamed(request, request.params.saleId);
    const path = `/books/${sale.id}`;
    const tables = saleExports.map((one) => shown(`${path}/exports/${one.name}.csv`, one));
    const members = shown("/books/members.csv", membersExport);
    const title = "Files to take home";
    const places = salePlaces(sale.id, "/exports");
    return reply.page("books/exports", { title, places, sale, path, tables, members });
  });

  app.get<WithFile>("/books/:saleId/exports/:file", books, async (request, reply) => {
    const sale = await saleNamed(request, request.params.saleId);
    const found = saleExports.find(({ name }) => request.params.file === `${name}.csv`);
    if (!found) throw notFound("this table");
    const name = fileName([sale.name, found.name], "csv");
    return sendCsv(
      reply,
      name,
      streamSnapshot(db, (tx) => csvOf(tx, found, sale.id)),
    );
  });

  app.get<WithSale>("/books/:saleId/journal.txt", books, async (request, reply) => {
    const sale = await saleNamed(request, request.params.saleId);
    return sendJournal(
      reply,
      sale.name,
      streamSnapshot(db, (tx) => exportJournal(tx, sale.id)),
    );
  });

  app.get<WithSale>("/books/:saleId/archive.zip", books, async (request, reply) => {
    const { id: saleId, name } = await saleNamed(request, request.params.saleId);
    const draw = (statement: Parameters<typeof printFrozen>[0][number]) => printFrozen([statement]);
    const asked = { saleId, madeAt: app.now(), draw };
    return reply
      .type("application/zip")
      .header("content-disposition", `attachment; filename="${fileName([name, "archive"], "zip")}"`)
      .send(streamSnapshot(db, (tx) => writeArchive(tx, asked)));
  });
}

async function ofGuild(app: App): Promise<void> {
  const { db } = app.parts;

  app.get("/books/members.csv", books, async (_request, reply) =>
    sendCsv(
      reply,
      "members.csv",
      streamSnapshot(db, (tx) => csvOf(tx, membersExport, "")),
    ),
  );

  app.get("/books/journal.txt", books, async (_request, reply) =>
    sendJournal(
      reply,
      "all sales",
      streamSnapshot(db, (tx) => exportJournal(tx, null)),
    ),
  );
}

const shown = (href: string, { title, words }: CsvExport) => ({ href, title, words });

const sendCsv = (reply: Reply, name: string, stream: Readable) =>
  reply
    .type("text/csv; charset=utf-8; header=present")
    .header("content-disposition", `attachment; filename="${name}"`)
    .send(stream);

const sendJournal = (reply: Reply, name: string, stream: Readable) =>
  reply
    .type("text/plain; charset=utf-8")
    .header("content-disposition", `attachment; filename="${fileName([name], "journal")}"`)
    .send(stream);
