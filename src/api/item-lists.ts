import { z } from "zod";
import { helpsOthers } from "../actions/entry-rules.ts";
import { enterAgain } from "../actions/item-lists/enter-again.ts";
import { enterItemList } from "../actions/item-lists/enter-item-list.ts";
import { lookAtList } from "../actions/item-lists/look-at-list.ts";
import { putListBack, takeListBack } from "../actions/item-lists/take-list-back.ts";
import {
  againShape,
  enterAgainShape,
  enterListShape,
  itemListShape,
  listEnteredShape,
  listLookShape,
  listTextShape,
  takenBackShape,
  unsoldShape,
} from "../contract/item-list.ts";
import { findItemList, listItemLists } from "../database/item-lists.ts";
import { findSale } from "../database/sales.ts";
import { listUnsold } from "../database/unsold.ts";
import { notFound, orRefuse } from "../plugins/errors.ts";
import { memberIdFor } from "../plugins/seen-items.ts";
import type { App } from "../plugins/types.ts";
import { pageOf, pageQuery, refusals, typed } from "./typed.ts";

const tags = ["items"];
const mine = { access: "signed-in" as const };
const saleParams = z.object({ saleId: z.uuid() });
const listParams = z.object({ id: z.uuid() });
const nothing = z.strictObject({}).optional();

/** Many entries at once: from a spreadsheet, or pieces that came home. */
export async function itemListApi(app: App): Promise<void> {
  const route = typed(app);
  const { db } = app.parts;

  route.post("/sales/:saleId/items/list/preview", {
    config: { ...mine, keyless: true },
    schema: {
      tags,
      summary: "Read a list of pieces and mark the rows that cannot be entered; enters nothing",
      params: saleParams,
      body: listTextShape,
      response: { 200: listLookShape, ...refusals },
    },
    handler: async (request) => {
      const { text, memberNumber } = request.body;
      const memberId = await memberIdFor(db, request.who(), memberNumber);
      const sale = await findSale(db, request.params.saleId);
      if (!sale) throw notFound("this sale");
      return orRefuse(await lookAtList(db, { sale, memberId, text, twins: "leave" }));
    },
  });

  route.post("/sales/:saleId/items/list", {
    config: mine,
    schema: {
      tags,
      summary: "Enter the good rows of a list, all of them or none; faulty rows are left out",
      params: saleParams,
      body: enterListShape,
      response: { 201: listEnteredShape, ...refusals },
    },
    handler: async (request, reply) => {
      const { memberNumber, ...list } = request.body;
      const memberId = await memberIdFor(db, request.who(), memberNumber);
      const given = { ...list, memberId, saleId: request.params.saleId };
      const entered = orRefuse(await enterItemList(request.deed(), given, app.now()));
      return reply.code(201).send(entered);
    },
  });

  route.get("/sales/:saleId/items/unsold", {
    config: mine,
    schema: {
      tags,
      summary: "One's own pieces of other sales that came home, to be entered again for this one",
      params: saleParams,
      querystring: pageQuery,
      response: { 200: pageOf(unsoldShape), ...refusals },
    },
    handler: async (request) => {
      const { after, limit, q = "" } = request.query;
      const { saleId } = request.params;
      const page = { ...(after ? { after } : {}), limit };
      return listUnsold(db, { memberId: request.who().id, saleId, q }, page);
    },
  });

  route.post("/sales/:saleId/items/unsold", {
    config: mine,
    schema: {
      tags,
      summary: "Enter unsold pieces again under new tags, all of them or none",
      params: saleParams,
      body: enterAgainShape,
      response: { 201: againShape, ...refusals },
    },
    handler: async (request, reply) => {
      const given = { ...request.body, saleId: request.params.saleId };
      const entered = orRefuse(await enterAgain(request.deed(), given, app.now()));
      return reply.code(201).send(entered);
    },
  });

  await app.register(enteredLists);
}

async function enteredLists(app: App): Promise<void> {
  const route = typed(app);
  const { db } = app.parts;

  route.get("/item-lists", {
    config: mine,
    schema: {
      tags,
      summary: "One's own lists that were entered in one go, the newest first",
      querystring: pageQuery
        .omit({ q: true })
        .extend({ after: z.uuid().optional(), saleId: z.uuid().optional() }),
      response: { 200: pageOf(itemListShape), ...refusals },
    },
    handler: async (request) => {
      const { after, limit, saleId } = request.query;
      return listItemLists(db, { memberId: request.who().id, saleId }, { after, limit });
    },
  });

  route.get("/item-lists/:id", {
    config: mine,
    schema: {
      tags,
      summary: "One list, with how its pieces stand",
      params: listParams,
      response: { 200: itemListShape, ...refusals },
    },
    handler: async (request) => {
      const actor = request.who();
      const list = await findItemList(db, request.params.id);
      if (!list || !(list.memberId === actor.id || helpsOthers(actor))) throw notFound("this list");
      return list;
    },
  });

  route.post("/item-lists/:id/withdrawal", {
    config: mine,
    schema: {
      tags,
      summary: "Take a list back: withdraw its entries that have not come to the desk",
      params: listParams,
      body: nothing,
      response: { 201: takenBackShape, ...refusals },
    },
    handler: async (request, reply) => {
      const given = { listId: request.params.id };
      const done = orRefuse(await takeListBack(request.deed(), given, app.now()));
      return reply.code(201).send(done);
    },
  });

  route.delete("/item-lists/:id/withdrawal", {
    config: mine,
    schema: {
      tags,
      summary: "Put back what was withdrawn together with the list",
      params: listParams,
      response: { 200: takenBackShape, ...refusals },
    },
    handler: async (request) =>
      orRefuse(await putListBack(request.deed(), { listId: request.params.id })),
  });
}
