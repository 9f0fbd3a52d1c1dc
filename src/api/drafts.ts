import { z } from "zod";
import { discardDraft, keepDraft } from "../actions/drafts/keep-draft.ts";
import { draftRowShape, draftShape, keptDraftShape, shownDraftShape } from "../contract/draft.ts";
import { type DraftRead, draftsOf, findDraft } from "../database/drafts.ts";
import { notFound, orRefuse } from "../plugins/errors.ts";
import type { App, Request } from "../plugins/types.ts";
import { refusals, typed } from "./typed.ts";

const tags = ["items"];
const mine = { access: "signed-in" as const };
// Kept again with the same content, a draft is the same: no key is needed.
const keeps = { ...mine, keyless: true };
const params = z.object({ id: z.uuid() });

/** What a member has typed and not entered yet. */
export async function draftApi(app: App): Promise<void> {
  const route = typed(app);

  route.get("/me/drafts", {
    config: mine,
    schema: {
      tags,
      summary: "One's own drafts of entries, the newest first; at most 50",
      response: { 200: z.object({ items: z.array(draftRowShape) }), ...refusals },
    },
    handler: async (request) => {
      const drafts = await draftsOf(app.parts.db, request.who().id);
      return { items: drafts.map(rowOf) };
    },
  });

  route.get("/me/drafts/:id", {
    config: mine,
    schema: {
      tags,
      summary: "One draft, with its fields as they were typed",
      params,
      response: { 200: shownDraftShape, ...refusals },
    },
    handler: async (request) => {
      const found = await findDraft(app.parts.db, request.who().id, request.params.id);
      if (!found) throw notFound("this draft");
      return { ...rowOf(found), fields: found.fields };
    },
  });

  route.put("/me/drafts/:id", {
    config: keeps,
    schema: {
      tags,
      summary:
        "Keep a draft under an id of one's own choice; from an older version it is kept beside the newer one, under another id",
      params,
      body: draftShape,
      response: { 200: keptDraftShape, ...refusals },
    },
    handler: async (request) =>
      orRefuse(await keepDraft(keepingOf(request), request.params.id, request.body)),
  });

  route.delete("/me/drafts/:id", {
    config: keeps,
    schema: {
      tags,
      summary: "Discard a draft",
      params,
      response: { 204: z.null(), ...refusals },
    },
    handler: async (request, reply) => {
      await discardDraft(keepingOf(request), request.params.id);
      return reply.code(204).send(null);
    },
  });
}

const keepingOf = (request: Request) => ({
  db: request.server.parts.db,
  memberId: request.who().id,
  now: request.server.now(),
});

const rowOf = ({ id, form, saleId, version, typedAt }: DraftRead) => ({
  ...{ id, form, saleId, version },
  typedAt: typedAt.toISOString(),
});
