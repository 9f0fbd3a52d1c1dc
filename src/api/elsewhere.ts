import { z } from "zod";
import {
  changeElsewhere,
  noteElsewhere,
  takeBackElsewhere,
} from "../actions/bench/keep-elsewhere.ts";
import { noteMaking } from "../actions/bench/note-making.ts";
import { elsewhereChange, elsewhereShape, elsewhereShown } from "../contract/elsewhere.ts";
import { makingShape, makingShown } from "../contract/making.ts";
import { versionNumber } from "../contract/version.ts";
import { findElsewhere, listElsewhere } from "../database/sold/elsewhere.ts";
import { stockListOf } from "../database/stock-list.ts";
import { notFound, orRefuse } from "../plugins/errors.ts";
import { listOwner } from "../plugins/seen-items.ts";
import type { App, Request } from "../plugins/types.ts";
import { printStockList } from "../printing/stock-list.ts";
import { pageOf, pageQuery, refusals, typed } from "./typed.ts";

const mine = { access: "signed-in" as const };
const tags = ["bench"];
const params = z.object({ id: z.uuid() });

/** A member's sales elsewhere, what a piece took to make, and the list to sign at the desk. */
export async function elsewhereApi(app: App): Promise<void> {
  const route = typed(app);
  const { db } = app.parts;
  const ownNote = async (request: Request, id: string) => {
    const note = await findElsewhere(db, { id, memberId: request.who().id });
    if (!note) throw notFound("this sale");
    return note;
  };

  route.get("/me/elsewhere", {
    config: mine,
    schema: {
      tags,
      summary: "What I sold elsewhere, the latest first, with what I took back",
      querystring: pageQuery.extend({ after: z.uuid().optional() }),
      response: { 200: pageOf(elsewhereShown), ...refusals },
    },
    handler: async (request) => listElsewhere(db, request.who().id, request.query),
  });

  route.get("/me/elsewhere/:id", {
    config: mine,
    schema: {
      tags,
      summary: "One of them",
      params,
      response: { 200: elsewhereShown, ...refusals },
    },
    handler: async (request) => ownNote(request as Request, request.params.id),
  });

  route.post("/me/elsewhere", {
    config: mine,
    schema: {
      tags,
      summary: "Note a sale elsewhere; it never touches the guild's books",
      body: elsewhereShape,
      response: { 201: elsewhereShown, ...refusals },
    },
    handler: async (request, reply) => {
      const { id } = orRefuse(await noteElsewhere(request.deed(), request.body));
      return reply.code(201).send(await ownNote(request as Request, id));
    },
  });

  route.put("/me/elsewhere/:id", {
    config: mine,
    schema: {
      tags,
      summary: "Put a note right, from the version that was read",
      params,
      body: elsewhereChange,
      response: { 200: elsewhereShown, ...refusals },
    },
    handler: async (request) => {
      orRefuse(await changeElsewhere(request.deed(), request.params.id, request.body));
      return ownNote(request as Request, request.params.id);
    },
  });

  route.delete("/me/elsewhere/:id", {
    config: mine,
    schema: {
      tags,
      summary: "Take a note back: it stays to be seen and counts for nothing",
      params,
      querystring: z.object({ version: z.coerce.number().pipe(versionNumber) }),
      response: { 200: elsewhereShown, ...refusals },
    },
    handler: async (request) => {
      const { id } = request.params;
      orRefuse(await takeBackElsewhere(request.deed(), { id, ...request.query }));
      return ownNote(request as Request, id);
    },
  });

  route.put("/items/:id/making", {
    config: mine,
    schema: {
      tags,
      summary: "Note what one piece of my item took to make; only I ever see it",
      params,
      body: makingShape,
      response: { 200: makingShown, ...refusals },
    },
    handler: async (request) =>
      orRefuse(await noteMaking(request.deed(), request.params.id, request.body)),
  });

  app.get<{ Params: { saleId: string }; Querystring: { member?: string } }>(
    "/sales/:saleId/items/stock-list.pdf",
    {
      config: mine,
      schema: {
        tags,
        summary:
          "The list of entries to sign at check-in; the desk and the chair may name a member",
        params: z.object({ saleId: z.uuid() }),
        querystring: z.object({ member: z.string().max(4).optional() }),
      } as object,
    },
    async (request, reply) => {
      const memberId = await listOwner(db, request.who(), request.query.member ?? "");
      const list = await stockListOf(db, { saleId: request.params.saleId, memberId });
      if (!list) throw notFound("this sale");
      const bytes = await printStockList(list, app.now());
      return reply.type("application/pdf").send(Buffer.from(bytes));
    },
  );
}
