import { z } from "zod";
import {
  incomeStatementShape,
  payablesShape,
  soldLineShape,
  takingsReportShape,
  taxWorksheetShape,
} from "../contract/figures.ts";
import { incomeStatement } from "../database/figures/income-statement.ts";
import { payablesOf } from "../database/figures/payables.ts";
import { onOneSnapshot } from "../database/figures/snapshot.ts";
import { listSoldLines } from "../database/figures/sold-lines.ts";
import { takingsReport } from "../database/figures/takings-report.ts";
import { taxWorksheet } from "../database/figures/tax-worksheet.ts";
import { findSale } from "../database/sales.ts";
import { notFound } from "../plugins/errors.ts";
import type { App } from "../plugins/types.ts";
import { agePayables } from "../rules/paying/unclaimed.ts";
import { pageOf, pageQuery, refusals, typed } from "./typed.ts";

const books = { access: ["treasurer", "chair"] as const };
const params = z.object({ id: z.uuid() });

/** The guild's own figures of a sale, and what it owes its members over all sales. */
export async function figuresApi(app: App): Promise<void> {
  await app.register(ofSale);
  await app.register(ofTaxes);
  await app.register(ofMembers);
}

async function ofSale(app: App): Promise<void> {
  const route = typed(app);
  const { db } = app.parts;
  const known = async (id: string) => {
    if (!(await findSale(db, id))) throw notFound("this sale");
  };

  route.get("/sales/:id/takings-report", {
    config: books,
    schema: {
      tags: ["books"],
      summary: "What a sale took by till, tender, hour and kind, beside what the ledger says",
      params,
      response: { 200: takingsReportShape, ...refusals },
    },
    handler: async ({ params: { id } }) => {
      await known(id);
      const { timeZone } = await db.guild.findFirstOrThrow();
      return onOneSnapshot(db, (tx) => takingsReport(tx, id, timeZone));
    },
  });

  route.get("/sales/:id/lines", {
    config: books,
    schema: {
      tags: ["books"],
      summary: "Lines of the receipts of a sale, the newest first; kind is a key of the takings",
      params,
      querystring: pageQuery.extend({
        after: z.uuid().optional(),
        kind: z.string().trim().max(100).optional(),
      }),
      response: { 200: pageOf(soldLineShape), ...refusals },
    },
    handler: async ({ params: { id }, query: { kind, q, ...page } }) => {
      await known(id);
      const { items, next } = await listSoldLines(db, { saleId: id, kind, q }, page);
      return { items: items.map((one) => ({ ...one, at: one.at.toISOString() })), next };
    },
  });

  route.get("/sales/:id/income-statement", {
    config: books,
    schema: {
      tags: ["books"],
      summary: "What a sale brought the guild itself; income above zero, costs below",
      params,
      response: { 200: incomeStatementShape, ...refusals },
    },
    handler: async ({ params: { id } }) => {
      await known(id);
      return onOneSnapshot(db, (tx) => incomeStatement(tx, id));
    },
  });
}

async function ofTaxes(app: App): Promise<void> {
  const route = typed(app);
  const { db } = app.parts;
  const moment = z.iso.datetime({ offset: true, error: "Give a moment with its offset" });

  route.get("/sales/:id/tax-worksheet", {
    config: books,
    schema: {
      tags: ["books"],
      summary: "What a tax return asks for, of a sale",
      params,
      response: { 200: taxWorksheetShape, ...refusals },
    },
    handler: async ({ params: { id } }) => {
      if (!(await findSale(db, id))) throw notFound("this sale");
      return onOneSnapshot(db, (tx) => taxWorksheet(tx, { saleId: id }));
    },
  });

  route.get("/tax-worksheet", {
    config: books,
    schema: {
      tags: ["books"],
      summary: "The same of all receipts made from one moment on and before another",
      querystring: z.object({ from: moment, to: moment }),
      response: { 200: taxWorksheetShape, ...refusals },
    },
    handler: async ({ query }) => {
      const scope = { from: new Date(query.from), to: new Date(query.to) };
      return onOneSnapshot(db, (tx) => taxWorksheet(tx, scope));
    },
  });
}

async function ofMembers(app: App): Promise<void> {
  const { db } = app.parts;

  typed(app).get("/payables", {
    config: books,
    schema: {
      tags: ["books"],
      summary: "What the guild owes its members, by age, and what members owe the guild",
      response: { 200: payablesShape, ...refusals },
    },
    handler: async () => {
      const { timeZone } = await db.guild.findFirstOrThrow();
      const found = await onOneSnapshot(db, payablesOf);
      const ages = agePayables(found.payables, app.now().toISOString(), timeZone);
      return { ...found, ages: ages.map(({ from, to, total }) => ({ from, to, total })) };
    },
  });
}
