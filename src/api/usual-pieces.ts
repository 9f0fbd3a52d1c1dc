import { z } from "zod";
import { editUsual, putUsualAway } from "../actions/usual-pieces/change-usual.ts";
import { keepUsual } from "../actions/usual-pieces/keep-usual.ts";
import { newUsualShape, usualEditShape, usualShape } from "../contract/usual-piece.ts";
import { findUsual, listUsual } from "../database/usual-pieces.ts";
import { notFound, orRefuse } from "../plugins/errors.ts";
import type { App, Request } from "../plugins/types.ts";
import { pageOf, pageQuery, refusals, typed } from "./typed.ts";

const tags = ["items"];
const mine = { access: "signed-in" as const };
const params = z.object({ id: z.uuid() });
const versionQuery = z.object({ version: z.coerce.number().int().min(1).max(1_000_000_000) });

/** What a member makes again and again; nobody else reads it. */
export async function usualPieceApi(app: App): Promise<void> {
  const route = typed(app);
  const { db } = app.parts;

  const own = async (request: Request, id: string) => {
    const piece = await findUsual(db, request.who().id, id);
    if (!piece) throw notFound("this usual piece");
    return piece;
  };

  route.get("/usual-pieces", {
    config: mine,
    schema: {
      tags,
      summary: "One's own usual pieces by name: those in use, or those put away",
      querystring: pageQuery.extend({
        after: z.uuid().optional(),
        away: z.enum(["yes", "no"]).default("no"),
      }),
      response: { 200: pageOf(usualShape), ...refusals },
    },
    handler: async (request) => {
      const { after, limit, q = "", away } = request.query;
      const filter = { memberId: request.who().id, q, away: away === "yes" };
      return listUsual(db, filter, { after, limit });
    },
  });

  route.post("/usual-pieces", {
    config: mine,
    schema: {
      tags,
      summary: "Keep one of one's own items as a usual piece",
      body: newUsualShape,
      response: { 201: usualShape, ...refusals },
    },
    handler: async (request, reply) => {
      const { id } = orRefuse(await keepUsual(request.deed(), request.body));
      return reply.code(201).send(await own(request, id));
    },
  });

  route.get("/usual-pieces/:id", {
    config: mine,
    schema: {
      tags,
      summary: "One usual piece",
      params,
      response: { 200: usualShape, ...refusals },
    },
    handler: async (request) => own(request, request.params.id),
  });

  route.patch("/usual-pieces/:id", {
    config: mine,
    schema: {
      tags,
      summary: "Change the name and price of a usual piece, from the version that was read",
      params,
      body: usualEditShape,
      response: { 200: usualShape, ...refusals },
    },
    handler: async (request) => {
      const { id } = request.params;
      orRefuse(await editUsual(request.deed(), { ...request.body, id }));
      return own(request, id);
    },
  });

  route.put("/usual-pieces/:id/put-away", {
    config: mine,
    schema: {
      tags,
      summary: "Put a usual piece away, from the version that was read",
      params,
      body: z.strictObject(usualEditShape.pick({ version: true }).shape),
      response: { 200: usualShape, ...refusals },
    },
    handler: async (request) => {
      const { id } = request.params;
      const given = { ...request.body, id, away: true };
      orRefuse(await putUsualAway(request.deed(), given, app.now()));
      return own(request, id);
    },
  });

  route.delete("/usual-pieces/:id/put-away", {
    config: mine,
    schema: {
      tags,
      summary: "Bring a usual piece back, from the version that was read",
      params,
      querystring: versionQuery,
      response: { 200: usualShape, ...refusals },
    },
    handler: async (request) => {
      const { id } = request.params;
      const given = { version: request.query.version, id, away: false };
      orRefuse(await putUsualAway(request.deed(), given, app.now()));
      return own(request, id);
    },
  });
}
