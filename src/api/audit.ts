import { z } from "zod";
import { listAudits } from "../database/audits.ts";
import type { App } from "../plugins/types.ts";
import { pageOf, pageQuery, refusals, typed } from "./typed.ts";

const auditShown = z.object({
  id: z.string(),
  deed: z.string(),
  subjectId: z.string(),
  detail: z.record(z.string(), z.unknown()),
  by: z.object({ number: z.number().int(), name: z.string() }).nullable(),
  at: z.string(),
});

export async function auditApi(app: App): Promise<void> {
  typed(app).get("/audit", {
    config: { access: ["chair", "treasurer"] },
    schema: {
      tags: ["guild"],
      summary: "Who did what and when, the newest first",
      querystring: pageQuery.extend({
        after: z
          .string()
          .regex(/^\d{1,18}$/)
          .optional(),
      }),
      response: { 200: pageOf(auditShown), ...refusals },
    },
    handler: async (request) => listAudits(app.parts.db, request.query),
  });
}
