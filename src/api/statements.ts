import { z } from "zod";
import { recordPayout } from "../actions/record-payout.ts";
import { voidPayout } from "../actions/void-payout.ts";
import { paidOutShape, payoutShape, payoutVoidShape } from "../contract/payout.ts";
import { statementShape } from "../contract/settlement.ts";
import { listPayouts } from "../database/payouts.ts";
import { gatherStatements } from "../database/statements.ts";
import { notFound, orRefuse } from "../plugins/errors.ts";
import type { App, Request } from "../plugins/types.ts";
import { printFrozen } from "../printing/statement-words.ts";
import { hasAny } from "../rules/roles.ts";
import { refusals, typed } from "./typed.ts";

const books = { access: ["treasurer", "chair"] as const };
const params = z.object({ id: z.uuid() });

/** Statements: the treasurer's and the chair's, and each member's own. */
export async function statementApi(app: App): Promise<void> {
  await app.register(reads);
  await app.register(payouts);
}

/** Somebody else's statement is not there, exactly like one that never was. */
async function readable(request: Request, id: string) {
  const who = request.who();
  const own = hasAny(who.roles, books.access) ? {} : { memberId: who.id };
  const [statement] = await gatherStatements(request.server.parts.db, { id, ...own });
  if (!statement) throw notFound("this statement");
  return statement;
}

async function reads(app: App): Promise<void> {
  const route = typed(app);
  const mine = { access: "signed-in" as const };

  route.get("/statements/:id", {
    config: mine,
    schema: {
      tags: ["settlement"],
      summary: "A statement with its lines; members see their own",
      params,
      response: { 200: statementShape, ...refusals },
    },
    handler: async (request) => {
      const { heading, ...found } = await readable(request as never, request.params.id);
      return {
        ...found,
        settledAt: found.settledAt.toISOString(),
        memberNumber: heading.memberNumber,
        memberName: heading.memberName,
        yearToDate: heading.yearToDate ?? null,
        notes: heading.notes,
        lines: found.lines.map((line) => ({ ...line, soldAt: line.soldAt.toISOString() })),
        payouts: await listPayouts(app.parts.db, found.id),
      };
    },
  });

  app.get<{ Params: { id: string } }>("/statements/:id/pdf", {
    config: mine,
    schema: { tags: ["settlement"], summary: "A statement on paper, as PDF", params },
    handler: async (request, reply) => {
      const found = await readable(request, request.params.id);
      return reply
        .type("application/pdf")
        .header("content-disposition", `inline; filename="statement-${found.number}.pdf"`)
        .send(Buffer.from(await printFrozen([found])));
    },
  });
}

async function payouts(app: App): Promise<void> {
  const route = typed(app);

  route.post("/statements/:id/payouts", {
    config: books,
    schema: {
      tags: ["settlement"],
      summary: "Record that a statement was paid, whole",
      params,
      body: payoutShape,
      response: { 201: paidOutShape, ...refusals },
    },
    handler: async (request, reply) => {
      const input = { statementId: request.params.id, ...request.body };
      return reply.code(201).send(orRefuse(await recordPayout(request.deed(), input)));
    },
  });

  route.post("/payouts/:id/void", {
    config: books,
    schema: {
      tags: ["settlement"],
      summary: "Take a payout back, with a reason; the statement can then be paid again",
      params,
      body: payoutVoidShape,
      response: { 201: z.object({ payoutId: z.uuid(), statementId: z.uuid() }), ...refusals },
    },
    handler: async (request, reply) => {
      const input = { payoutId: request.params.id, ...request.body };
      return reply.code(201).send(orRefuse(await voidPayout(request.deed(), input)));
    },
  });
}
