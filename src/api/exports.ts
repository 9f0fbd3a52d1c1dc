import { z } from "zod";
import { exportShape } from "../contract/archive.ts";
import { writeArchive } from "../database/archive/write-archive.ts";
import { csvOf } from "../database/exports/csv-export.ts";
import { saleExports } from "../database/exports/index.ts";
import { membersExport } from "../database/exports/ledger-exports.ts";
import { exportJournal } from "../database/journal-export.ts";
import { findSale } from "../database/sales.ts";
import { streamSnapshot } from "../database/snapshot.ts";
import { notFound } from "../plugins/errors.ts";
import type { App } from "../plugins/types.ts";
import { printFrozen } from "../printing/statement-words.ts";
import type { FrozenStatement } from "../rules/statement.ts";
import { refusals, typed } from "./typed.ts";

const books = { access: ["treasurer", "chair"] as const };
const params = z.object({ id: z.uuid() });
const tags = ["exports"];
const csv = "text/csv; charset=utf-8; header=present";
const plain = "text/plain; charset=utf-8";

type WithId = { Params: { id: string } };
type WithName = { Params: { id: string; name: string } };

/** Tables, journals and archives, streamed while they are read from one moment of the books. */
export async function exportApi(app: App): Promise<void> {
  await app.register(tables);
  await app.register(journals);
  await app.register(archives);
}

async function tables(app: App): Promise<void> {
  const { db } = app.parts;

  typed(app).get("/exports", {
    config: books,
    schema: {
      tags,
      summary: "The tables of a sale that are given out as CSV",
      response: { 200: z.object({ items: z.array(exportShape) }), ...refusals },
    },
    handler: async () => ({
      items: saleExports.map(({ name, title, words }) => ({ name, title, words })),
    }),
  });

  const names = saleExports.map(({ name }) => name);
  app.get<WithName>("/sales/:id/exports/:name", {
    config: books,
    schema: {
      tags,
      summary: "A table of a sale as CSV (RFC 4180), amounts as plain decimals",
      description: "Texts that a spreadsheet would run as a formula begin with an apostrophe.",
      params: params.extend({ name: z.enum(names) }),
    },
    handler: async ({ params: { id, name } }, reply) => {
      const found = saleExports.find((one) => one.name === name);
      if (!found || !(await findSale(db, id))) throw notFound("this sale");
      return reply.type(csv).send(streamSnapshot(db, (tx) => csvOf(tx, found, id)));
    },
  });

  app.get("/members.csv", {
    config: books,
    schema: { tags, summary: "All members as CSV, without anything secret" },
    handler: async (_request, reply) =>
      reply.type(csv).send(streamSnapshot(db, (tx) => csvOf(tx, membersExport, ""))),
  });
}

async function journals(app: App): Promise<void> {
  const { db } = app.parts;

  app.get<WithId>("/sales/:id/journal", {
    config: books,
    schema: {
      tags,
      summary: "The entries of a sale as a plain-text journal for accounting programs",
      params,
    },
    handler: async ({ params: { id } }, reply) => {
      if (!(await findSale(db, id))) throw notFound("this sale");
      return reply.type(plain).send(streamSnapshot(db, (tx) => exportJournal(tx, id)));
    },
  });

  app.get("/journal", {
    config: books,
    schema: { tags, summary: "The entries of all sales as a plain-text journal" },
    handler: async (_request, reply) =>
      reply.type(plain).send(streamSnapshot(db, (tx) => exportJournal(tx, null))),
  });
}

async function archives(app: App): Promise<void> {
  const { db } = app.parts;

  app.get<WithId>("/sales/:id/archive", {
    config: books,
    schema: {
      tags,
      summary: "The archive of a sale: a zip that an empty service takes back",
      description:
        "Rows of all tables as JSON, the sale's tables as CSV, its journal and statements, and manifest.json " +
        "with the SHA-256 of each file and the sum of each account.",
      params,
    },
    handler: async ({ params: { id } }, reply) => {
      if (!(await findSale(db, id))) throw notFound("this sale");
      const draw = (statement: FrozenStatement) => printFrozen([statement]);
      const asked = { saleId: id, madeAt: app.now(), draw };
      return reply
        .type("application/zip")
        .send(streamSnapshot(db, (tx) => writeArchive(tx, asked)));
    },
  });
}
