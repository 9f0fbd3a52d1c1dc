import { z } from "zod";
import { addKind, editKind } from "../actions/kinds.ts";
import { kindChange, kindShape, kindShown } from "../contract/kind.ts";
import { listKinds } from "../database/kinds.ts";
import { orRefuse } from "../plugins/errors.ts";
import type { App } from "../plugins/types.ts";
import { refusals, typed } from "./typed.ts";

const chair = { access: ["chair"] as const };
const made = z.object({ id: z.uuid() });

export async function kindApi(app: App): Promise<void> {
  const route = typed(app);

  route.get("/kinds", {
    config: { access: "signed-in" },
    schema: {
      tags: ["guild"],
      summary: "The kinds of goods, retired ones included",
      response: { 200: z.object({ items: z.array(kindShown) }), ...refusals },
    },
    handler: async () => ({ items: await listKinds(app.parts.db, { retired: true }) }),
  });

  route.post("/kinds", {
    config: chair,
    schema: {
      tags: ["guild"],
      summary: "Add a kind",
      body: kindShape,
      response: { 201: made, ...refusals },
    },
    handler: async (request, reply) =>
      reply.code(201).send(orRefuse(await addKind(request.deed(), request.body))),
  });

  route.patch("/kinds/:id", {
    config: chair,
    schema: {
      tags: ["guild"],
      summary: "Rename a kind, retire it or take it back into use",
      params: z.object({ id: z.uuid() }),
      body: kindChange,
      response: { 200: made, ...refusals },
    },
    handler: async (request) =>
      orRefuse(await editKind(request.deed(), request.params.id, request.body)),
  });
}
