import { z } from "zod";
import { enterFromSheet } from "../actions/enter-from-sheet.ts";
import {
  addSheet,
  copySheet,
  editSheet,
  putSheetAway,
  takeSheetOut,
} from "../actions/warp-sheets.ts";
import { enteredShape } from "../contract/item.ts";
import { keptSheetShape, sheetOutcomeShape, sheetWithOutcome } from "../contract/sheet-outcome.ts";
import {
  enterFromSheetShape,
  newSheetShape,
  sheetChangeShape,
  warpSheetShape,
} from "../contract/warp-sheet.ts";
import { findSheet, listSheets } from "../database/warp-sheets.ts";
import { notFound, orRefuse, RefusedRequest } from "../plugins/errors.ts";
import type { App, Request } from "../plugins/types.ts";
import { problem } from "../rules/problem.ts";
import { sheetErrors } from "../rules/weave/sheet-errors.ts";
import { outcomeOf } from "./sheet-outcome.ts";
import { pageOf, pageQuery, refusals, typed } from "./typed.ts";

const tags = ["bench"];
const mine = { access: "signed-in" as const };
const params = z.object({ id: z.uuid() });
const kept = z.object({ id: z.uuid(), version: z.int() });
const empty = z.strictObject({}).optional();

/** A member's own warp sheets; there is no way to ask for anybody else's. */
export async function warpSheetApi(app: App): Promise<void> {
  const route = typed(app);

  route.get("/me/sheets", {
    config: mine,
    schema: {
      tags,
      summary: "My warp sheets, the newest first",
      querystring: pageQuery.extend({
        after: z.uuid().optional(),
        list: z.enum(["in-use", "put-away"]).default("in-use"),
      }),
      response: { 200: pageOf(keptSheetShape), ...refusals },
    },
    handler: async (request) => {
      const { after, limit, q = "", list } = request.query;
      const filter = { memberId: request.who().id, putAway: list === "put-away" };
      return listSheets(app.parts.db, { ...filter, q }, { after, limit });
    },
  });

  route.get("/me/sheets/:id", {
    config: mine,
    schema: {
      tags,
      summary: "One of my warp sheets with all that it comes to, exactly",
      params,
      response: { 200: sheetWithOutcome, ...refusals },
    },
    handler: async (request) => shownSheet(request, request.params.id),
  });

  route.post("/me/sheets", {
    config: mine,
    schema: {
      tags,
      summary: "Keep a new warp sheet",
      body: newSheetShape,
      response: { 201: sheetWithOutcome, ...refusals },
    },
    handler: async (request, reply) => {
      const { id } = orRefuse(await addSheet(request.deed(), request.body, app.now()));
      return reply.code(201).send(await shownSheet(request, id));
    },
  });

  route.put("/me/sheets/:id", {
    config: mine,
    schema: {
      tags,
      summary: "Change one of my warp sheets, from the version that was read",
      params,
      body: sheetChangeShape,
      response: { 200: sheetWithOutcome, ...refusals },
    },
    handler: async (request) => {
      const { id } = request.params;
      orRefuse(await editSheet(request.deed(), { id, ...request.body }, app.now()));
      return shownSheet(request, id);
    },
  });

  route.post("/warp-sheet/outcome", {
    config: mine,
    schema: {
      tags,
      summary: "Work out a warp sheet without keeping it",
      body: warpSheetShape,
      response: { 200: sheetOutcomeShape, ...refusals },
    },
    handler: async (request) => {
      const errors = sheetErrors(request.body);
      if (errors[0]) throw new RefusedRequest(problem("invalid-input", errors[0].message, errors));
      return outcomeOf(app.parts.db, request.who().id, request.body);
    },
  });

  await app.register(sheetDeeds);
}

async function sheetDeeds(app: App): Promise<void> {
  const route = typed(app);

  route.post("/me/sheets/:id/copies", {
    config: mine,
    schema: {
      tags,
      summary: "Copy one of my warp sheets",
      params,
      body: empty,
      response: { 201: kept, ...refusals },
    },
    handler: async (request, reply) => {
      const copy = await copySheet(request.deed(), request.params.id, app.now());
      return reply.code(201).send(orRefuse(copy));
    },
  });

  route.post("/me/sheets/:id/put-away", {
    config: mine,
    schema: {
      tags,
      summary: "Take one of my warp sheets off the list; it is kept",
      params,
      body: empty,
      response: { 201: params, ...refusals },
    },
    handler: async (request, reply) => {
      const away = await putSheetAway(request.deed(), request.params.id, app.now());
      return reply.code(201).send(orRefuse(away));
    },
  });

  route.delete("/me/sheets/:id/put-away", {
    config: mine,
    schema: {
      tags,
      summary: "Take a warp sheet that was put away out again",
      params,
      response: { 200: params, ...refusals },
    },
    handler: async (request) => orRefuse(await takeSheetOut(request.deed(), request.params.id)),
  });

  route.post("/me/sheets/:id/items", {
    config: mine,
    schema: {
      tags,
      summary: "Enter pieces of one of my warp sheets for a sale: all of them or none",
      params,
      body: enterFromSheetShape,
      response: { 201: z.object({ items: z.array(enteredShape) }), ...refusals },
    },
    handler: async (request, reply) => {
      const given = { ...request.body, sheetId: request.params.id };
      const items = orRefuse(await enterFromSheet(request.deed(), given, app.now()));
      return reply.code(201).send({ items });
    },
  });
}

async function shownSheet(request: Request, id: string) {
  const { db } = request.server.parts;
  const memberId = request.who().id;
  const found = await findSheet(db, memberId, id);
  if (!found) throw notFound("this warp sheet");
  return { ...found, outcome: await outcomeOf(db, memberId, found.sheet) };
}
