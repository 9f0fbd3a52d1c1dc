import { z } from "zod";
import { accountShape, checkedShape, journalEntryShape, takingsShape } from "../contract/books.ts";
import { checkBooks } from "../database/check-books.ts";
import { listBalances, listEntries } from "../database/journal.ts";
import { findSale } from "../database/sales.ts";
import { takingsOf } from "../database/takings.ts";
import { notFound } from "../plugins/errors.ts";
import type { App } from "../plugins/types.ts";
import { pageOf, refusals, typed } from "./typed.ts";

const books = { access: ["treasurer", "chair"] as const };
const params = z.object({ id: z.uuid() });

/** The books: takings of a sale, accounts, journal, and the proof that they are sound. */
export async function booksApi(app: App): Promise<void> {
  await app.register(ofSale);
  await app.register(ledger);
}

async function ofSale(app: App): Promise<void> {
  const { db } = app.parts;

  typed(app).get("/sales/:id/takings", {
    config: books,
    schema: {
      tags: ["books"],
      summary: "Where the pieces and the money of a sale are",
      params,
      response: { 200: takingsShape, ...refusals },
    },
    handler: async ({ params: { id } }) => {
      if (!(await findSale(db, id))) throw notFound("this sale");
      return takingsOf(db, id);
    },
  });
}

async function ledger(app: App): Promise<void> {
  const route = typed(app);
  const { db } = app.parts;

  route.get("/accounts", {
    config: books,
    schema: {
      tags: ["books"],
      summary: "What stands on each account; debit is above zero",
      response: { 200: z.object({ items: z.array(accountShape) }), ...refusals },
    },
    handler: async () => ({ items: await listBalances(db) }),
  });

  route.get("/journal-entries", {
    config: books,
    schema: {
      tags: ["books"],
      summary: "Journal entries, the newest first",
      description: "`after` is the last entry number seen.",
      querystring: z.object({
        after: z.coerce.number().int().min(1).optional(),
        limit: z.coerce.number().int().min(1).max(200).default(50),
        q: z.string().trim().max(100).optional(),
        account: z
          .string()
          .regex(/^[\w/-]{1,100}$/, "Give the key of an account")
          .optional(),
        saleId: z.uuid().optional(),
      }),
      response: { 200: pageOf(journalEntryShape), ...refusals },
    },
    handler: async ({ query: { after, ...query } }) => {
      const before = after === undefined ? undefined : BigInt(after);
      const { items, next } = await listEntries(db, { ...query, before });
      return { items: items.map((one) => ({ ...one, at: one.at.toISOString() })), next };
    },
  });

  route.get("/check-books", {
    config: books,
    schema: {
      tags: ["books"],
      summary: "Proves the invariants of both ledgers over the whole database",
      response: { 200: checkedShape, ...refusals },
    },
    handler: () => checkBooks(db),
  });
}
