import { z } from "zod";
import { recordCardTotal } from "../actions/record-card-total.ts";
import { recordDeposit } from "../actions/record-deposit.ts";
import { voidCardTotal } from "../actions/void-card-total.ts";
import { voidDeposit } from "../actions/void-deposit.ts";
import {
  bankingShown,
  bankVoidShape,
  cardTotalShape,
  cardTotalShown,
  depositShape,
  depositShown,
} from "../contract/banking.ts";
import { listCardTotals, listDeposits } from "../database/figures/banked.ts";
import { bankingOf } from "../database/figures/banking.ts";
import { onOneSnapshot } from "../database/figures/snapshot.ts";
import { findSale } from "../database/sales.ts";
import { notFound, orRefuse } from "../plugins/errors.ts";
import type { App } from "../plugins/types.ts";
import { pageOf, pageQuery, refusals, typed } from "./typed.ts";

const books = { access: ["treasurer", "chair"] as const };
const params = z.object({ id: z.uuid() });
const querystring = pageQuery.extend({ after: z.uuid().optional() });
const made = z.object({ id: z.uuid() });

/** What reached the bank, and what the card terminal says. */
export async function bankingApi(app: App): Promise<void> {
  await app.register(reads);
  await app.register(deposits);
  await app.register(cardTotals);
}

const known = async ({ parts: { db } }: App, id: string) => {
  if (!(await findSale(db, id))) throw notFound("this sale");
};

async function reads(app: App): Promise<void> {
  const route = typed(app);
  const { db } = app.parts;

  route.get("/sales/:id/banking", {
    config: books,
    schema: {
      tags: ["books"],
      summary: "Expected, counted and banked; card payments beside the terminal's totals",
      params,
      response: { 200: bankingShown, ...refusals },
    },
    handler: async ({ params: { id } }) => {
      await known(app, id);
      const { timeZone } = await db.guild.findFirstOrThrow();
      const { drawers, ...found } = await onOneSnapshot(db, (tx) => bankingOf(tx, id, timeZone));
      return { ...found, drawers: drawers.map((row) => ({ ...row, at: row.at.toISOString() })) };
    },
  });

  route.get("/sales/:id/deposits", {
    config: books,
    schema: {
      tags: ["books"],
      summary: "What was taken to the bank, the newest first; q finds references",
      params,
      querystring,
      response: { 200: pageOf(depositShown), ...refusals },
    },
    handler: async ({ params: { id }, query }) => {
      await known(app, id);
      return listDeposits(db, id, query);
    },
  });

  route.get("/sales/:id/card-totals", {
    config: books,
    schema: {
      tags: ["books"],
      summary: "What the card terminal said, the newest first; q finds references",
      params,
      querystring,
      response: { 200: pageOf(cardTotalShown), ...refusals },
    },
    handler: async ({ params: { id }, query }) => {
      await known(app, id);
      return listCardTotals(db, id, query);
    },
  });
}

async function deposits(app: App): Promise<void> {
  const route = typed(app);

  route.post("/sales/:id/deposits", {
    config: books,
    schema: {
      tags: ["books"],
      summary: "Record cash or cheques that were taken to the bank",
      params,
      body: depositShape,
      response: { 201: made, ...refusals },
    },
    handler: async (request, reply) => {
      const input = { ...request.body, saleId: request.params.id };
      return reply.code(201).send(orRefuse(await recordDeposit(request.deed(), input)));
    },
  });

  route.post("/deposits/:id/void", {
    config: books,
    schema: {
      tags: ["books"],
      summary: "Take a deposit back, with a reason",
      params,
      body: bankVoidShape,
      response: { 201: z.object({ depositId: z.uuid() }), ...refusals },
    },
    handler: async (request, reply) => {
      const input = { depositId: request.params.id, ...request.body };
      return reply.code(201).send(orRefuse(await voidDeposit(request.deed(), input)));
    },
  });
}

async function cardTotals(app: App): Promise<void> {
  const route = typed(app);

  route.post("/sales/:id/card-totals", {
    config: books,
    schema: {
      tags: ["books"],
      summary: "Record what the card terminal says of a day: of one till, or of all together",
      params,
      body: cardTotalShape,
      response: { 201: made, ...refusals },
    },
    handler: async (request, reply) => {
      const input = { ...request.body, saleId: request.params.id };
      return reply.code(201).send(orRefuse(await recordCardTotal(request.deed(), input)));
    },
  });

  route.post("/card-totals/:id/void", {
    config: books,
    schema: {
      tags: ["books"],
      summary: "Take a card total back, with a reason",
      params,
      body: bankVoidShape,
      response: { 201: z.object({ cardTotalId: z.uuid() }), ...refusals },
    },
    handler: async (request, reply) => {
      const input = { cardTotalId: request.params.id, ...request.body };
      return reply.code(201).send(orRefuse(await voidCardTotal(request.deed(), input)));
    },
  });
}
