import { z } from "zod";
import { mailStatement, mailStatements } from "../actions/mail-statements.ts";
import { returnStatementMail } from "../actions/return-statement-mail.ts";
import {
  mailReturnedShape,
  mailReturnShape,
  mailStatementShape,
  mailStatementsShape,
  mailsOfStatementShape,
  queuedShape,
  statementMailsShape,
  statementQueuedShape,
} from "../contract/statement-mail.ts";
import {
  countStatementMails,
  listStatementMails,
  mailsOfStatement,
} from "../database/statement-mails.ts";
import { notFound, orRefuse, RefusedRequest } from "../plugins/errors.ts";
import type { App } from "../plugins/types.ts";
import { mailStates } from "../rules/mail-state.ts";
import { problem } from "../rules/problem.ts";
import { refusals, typed } from "./typed.ts";

const config = { access: ["treasurer", "chair"] as const };
const tags = ["settlement"];
const params = z.object({ id: z.uuid() });

/** Statements by e-mail: queue them, see how far they have come, note what came back. */
export async function statementMailApi(app: App): Promise<void> {
  await app.register(reads);
  await app.register(writes);
}

async function reads(app: App): Promise<void> {
  const route = typed(app);
  const { db } = app.parts;

  route.get("/settlements/:id/mails", {
    config,
    schema: {
      tags,
      summary: "How far the statements of a settlement have come by e-mail",
      description: "`after` is the last statement number seen.",
      params,
      querystring: z.object({
        after: z.coerce.number().int().min(0).max(2_000_000_000).default(0),
        limit: z.coerce.number().int().min(1).max(200).default(50),
        q: z.string().trim().max(100).optional(),
        state: z.enum(["all", ...mailStates]).default("all"),
      }),
      response: { 200: statementMailsShape, ...refusals },
    },
    handler: async ({ params: { id }, query }) => {
      if (!(await db.settlement.findUnique({ where: { id } }))) throw notFound("this settlement");
      const counts = await countStatementMails(db, id);
      const { items, next } = await listStatementMails(db, id, query);
      return {
        ...{ ...counts, noAddress: counts["no-address"] },
        items: items.map((row) => ({
          ...row,
          nextAt: row.nextAt?.toISOString() ?? null,
          endedAt: row.endedAt?.toISOString() ?? null,
        })),
        next: next === null ? null : String(next),
      };
    },
  });

  route.get("/statements/:id/mails", {
    config,
    schema: {
      tags,
      summary: "Every message for a statement, the newest first",
      params,
      response: { 200: mailsOfStatementShape, ...refusals },
    },
    handler: async ({ params: { id } }) => {
      if (!(await db.statement.findUnique({ where: { id } }))) throw notFound("this statement");
      const items = (await mailsOfStatement(db, id)).map((row) => ({
        ...row,
        state: row.state as "waiting" | "sent" | "failed" | "returned",
        createdAt: row.createdAt.toISOString(),
        endedAt: row.endedAt?.toISOString() ?? null,
        returnedAt: row.returnedAt?.toISOString() ?? null,
      }));
      return { items };
    },
  });
}

async function writes(app: App): Promise<void> {
  const route = typed(app);

  route.post("/settlements/:id/mails", {
    config,
    schema: {
      tags,
      summary: "Send the statements of a settlement that were never sent, or those that failed",
      params,
      body: mailStatementsShape,
      response: { 202: queuedShape, ...refusals },
    },
    handler: async (request, reply) => {
      wantMail(app);
      const input = { settlementId: request.params.id, ...request.body };
      const queued = orRefuse(await mailStatements(request.deed(), input));
      void app.statementMails.wake();
      return reply.code(202).send(queued);
    },
  });

  route.post("/statements/:id/mails", {
    config,
    schema: {
      tags,
      summary: "Send one statement, also again; `after` is how many messages it had so far",
      params,
      body: mailStatementShape,
      response: { 202: statementQueuedShape, ...refusals },
    },
    handler: async (request, reply) => {
      wantMail(app);
      const input = { statementId: request.params.id, ...request.body };
      const queued = orRefuse(await mailStatement(request.deed(), input));
      void app.statementMails.wake();
      return reply.code(202).send(queued);
    },
  });

  route.post("/statement-mails/:id/return", {
    config,
    schema: {
      tags,
      summary: "Note that a sent message came back later as a mail",
      params,
      body: mailReturnShape,
      response: { 201: mailReturnedShape, ...refusals },
    },
    handler: async (request, reply) => {
      const input = { mailId: request.params.id, ...request.body };
      return reply.code(201).send(orRefuse(await returnStatementMail(request.deed(), input)));
    },
  });
}

function wantMail(app: App): void {
  if (app.parts.settings.mail) return;
  throw new RefusedRequest(problem("no-mail", "Nothing was sent. Print the statements instead."));
}
