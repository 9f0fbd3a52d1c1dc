import { z } from "zod";
import { importMembers, previewMembers } from "../actions/import-members.ts";
import { listPreview, memberListShape } from "../contract/member.ts";
import { orRefuse } from "../plugins/errors.ts";
import type { App } from "../plugins/types.ts";
import { refusals, typed } from "./typed.ts";

const chair = { access: ["chair"] as const };
const imported = z.object({
  added: z.array(z.object({ line: z.number().int(), number: z.number().int() })),
  skipped: z.number().int(),
});

export async function memberListApi(app: App): Promise<void> {
  const route = typed(app);

  route.post("/members/import/preview", {
    config: { ...chair, keyless: true },
    schema: {
      tags: ["members"],
      summary: "Read a list of members and mark the rows that cannot be added; adds nobody",
      body: memberListShape,
      response: { 200: listPreview, ...refusals },
    },
    handler: async (request) => orRefuse(await previewMembers(app.parts.db, request.body.text)),
  });

  route.post("/members/import", {
    config: chair,
    schema: {
      tags: ["members"],
      summary: "Add the good rows of a list, all of them or none",
      body: memberListShape,
      response: { 201: imported, ...refusals },
    },
    handler: async (request, reply) => {
      const done = orRefuse(await importMembers(request.deed(), request.body.text));
      return reply.code(201).send(done);
    },
  });
}
