import { z } from "zod";
import { allowMarkdown } from "../actions/allow-markdown.ts";
import { copyItem } from "../actions/copy-item.ts";
import { editItem } from "../actions/edit-item.ts";
import { enterItem } from "../actions/enter-item.ts";
import { enterItems } from "../actions/enter-items.ts";
import { putBackItem } from "../actions/put-back-item.ts";
import { withdrawItem } from "../actions/withdraw-item.ts";
import {
  copyShape,
  enteredShape,
  itemEditShape,
  markdownShape,
  newItemShape,
  newItemsShape,
  shownItemShape,
} from "../contract/item.ts";
import { itemPlaces, listItems } from "../database/items.ts";
import { orRefuse } from "../plugins/errors.ts";
import { itemByTag, memberIdFor, seenItem, seesAll } from "../plugins/seen-items.ts";
import type { App } from "../plugins/types.ts";
import { pageOf, pageQuery, refusals, typed } from "./typed.ts";

const tags = ["items"];
const mine = { access: "signed-in" as const };
const saleParams = z.object({ saleId: z.uuid() });
const itemParams = z.object({ id: z.uuid() });

export async function itemApi(app: App): Promise<void> {
  const route = typed(app);

  route.get("/sales/:saleId/items", {
    config: mine,
    schema: {
      tags,
      summary: "Items of a sale: one's own, or all for the desk, the treasurer and the chair",
      params: saleParams,
      querystring: pageQuery.extend({ place: z.enum(itemPlaces).optional() }),
      response: { 200: pageOf(shownItemShape), ...refusals },
    },
    handler: async (request) => {
      const { after, limit, q, place } = request.query;
      const { saleId } = request.params;
      const actor = request.who();
      const whose = seesAll(actor) ? {} : { memberId: actor.id };
      return listItems(app.parts.db, { saleId, q, place, ...whose }, { after, limit });
    },
  });

  route.post("/sales/:saleId/items", {
    config: mine,
    schema: {
      tags,
      summary: "Enter an item; the desk and the chair may name a member",
      params: saleParams,
      body: newItemShape,
      response: { 201: shownItemShape, ...refusals },
    },
    handler: async (request, reply) => {
      const { agreementVersion, memberNumber, draftId, ...item } = request.body;
      const { saleId } = request.params;
      const memberId = await memberIdFor(app.parts.db, request.who(), memberNumber);
      const given = { saleId, memberId, item, agreementVersion, draftId };
      const { id } = orRefuse(await enterItem(request.deed(), given, app.now()));
      return reply.code(201).send(await seenItem(app.parts.db, request.who(), id));
    },
  });

  route.post("/sales/:saleId/items/bulk", {
    config: mine,
    schema: {
      tags,
      summary: "Enter several items at once: all of them or none",
      params: saleParams,
      body: newItemsShape,
      response: { 201: z.object({ items: z.array(enteredShape) }), ...refusals },
    },
    handler: async (request, reply) => {
      const { agreementVersion, memberNumber, draftId, items } = request.body;
      const { saleId } = request.params;
      const memberId = await memberIdFor(app.parts.db, request.who(), memberNumber);
      const given = { saleId, memberId, items, agreementVersion, draftId };
      const entered = orRefuse(await enterItems(request.deed(), given, app.now()));
      return reply.code(201).send({ items: entered });
    },
  });

  route.get("/items/by-tag/:tag", {
    config: { access: ["desk", "cashier", "chair"] },
    schema: {
      tags,
      summary: "The item with this tag",
      params: z.object({ tag: z.string().max(60) }),
      response: { 200: shownItemShape, ...refusals },
    },
    handler: async (request) => itemByTag(app.parts.db, request.params.tag),
  });

  route.get("/items/:id", {
    config: mine,
    schema: {
      tags,
      summary: "One item",
      params: itemParams,
      response: { 200: shownItemShape, ...refusals },
    },
    handler: async (request) => seenItem(app.parts.db, request.who(), request.params.id),
  });

  await app.register(itemChanges);
}

async function itemChanges(app: App): Promise<void> {
  const route = typed(app);

  route.patch("/items/:id", {
    config: mine,
    schema: {
      tags,
      summary: "Change an item before check-in, from the version that was read",
      params: itemParams,
      body: itemEditShape,
      response: { 200: shownItemShape, ...refusals },
    },
    handler: async (request) => {
      const { version, ...item } = request.body;
      const given = { itemId: request.params.id, version, item };
      orRefuse(await editItem(request.deed(), given, app.now()));
      return seenItem(app.parts.db, request.who(), request.params.id);
    },
  });

  route.put("/items/:id/markdown", {
    config: mine,
    schema: {
      tags,
      summary:
        "Let the guild mark an item down on the last day, or no longer, until selling begins",
      params: itemParams,
      body: markdownShape,
      response: { 200: shownItemShape, ...refusals },
    },
    handler: async (request) => {
      const given = { itemId: request.params.id, ...request.body };
      orRefuse(await allowMarkdown(request.deed(), given));
      return seenItem(app.parts.db, request.who(), request.params.id);
    },
  });

  route.post("/items/:id/copies", {
    config: mine,
    schema: {
      tags,
      summary: "Enter the same again under a new tag, also from an earlier sale",
      params: itemParams,
      body: copyShape,
      response: { 201: shownItemShape, ...refusals },
    },
    handler: async (request, reply) => {
      const given = { ...request.body, itemId: request.params.id };
      const { id } = orRefuse(await copyItem(request.deed(), given, app.now()));
      return reply.code(201).send(await seenItem(app.parts.db, request.who(), id));
    },
  });

  route.post("/items/:id/withdrawal", {
    config: mine,
    schema: {
      tags,
      summary: "Withdraw an entry",
      params: itemParams,
      body: z.strictObject({}).optional(),
      response: { 201: z.object({ id: z.uuid(), withdrawnAt: z.string() }), ...refusals },
    },
    handler: async (request, reply) => {
      const given = { itemId: request.params.id };
      const withdrawn = orRefuse(await withdrawItem(request.deed(), given, app.now()));
      return reply.code(201).send(withdrawn);
    },
  });

  route.delete("/items/:id/withdrawal", {
    config: mine,
    schema: {
      tags,
      summary: "Put a withdrawn entry back",
      params: itemParams,
      response: { 200: shownItemShape, ...refusals },
    },
    handler: async (request) => {
      orRefuse(await putBackItem(request.deed(), { itemId: request.params.id }));
      return seenItem(app.parts.db, request.who(), request.params.id);
    },
  });
}
