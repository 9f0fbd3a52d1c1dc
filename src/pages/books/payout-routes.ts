import { recordPayout } from "../../actions/record-payout.ts";
import { voidPayout } from "../../actions/void-payout.ts";
import { payoutShape, payoutVoidShape } from "../../contract/payout.ts";
import { listPayouts } from "../../database/payouts.ts";
import { listSettlements, listStatements } from "../../database/settlements.ts";
import { gatherStatements } from "../../database/statements.ts";
import { notFound } from "../../plugins/errors.ts";
import type { App, Request } from "../../plugins/types.ts";
import { dayIn } from "../../rules/day.ts";
import type { Problem } from "../../rules/problem.ts";
import { readForm } from "../read-form.ts";
import { wantId } from "../want-id.ts";
import { books, guildWords, type WithId } from "./scene.ts";
import { statementPage } from "./statement-page.ts";

type WithPayout = { Params: { id: string; payoutId: string } };

/** One statement: its figures, paying it, and taking a payout back. */
export async function payoutPages(app: App): Promise<void> {
  app.get<WithId>("/books/statements/:id", books, async (request, reply) =>
    reply.page("books/statement", await page(request, request.params.id)),
  );

  app.post<WithId>("/books/statements/:id/payouts", books, async (request, reply) => {
    const statementId = wantId(request.params.id, "this statement");
    const read = readForm(payoutShape, request.body);
    const paid = read.ok
      ? await recordPayout(request.deed(), { statementId, ...read.value })
      : read;
    if (!paid.ok) {
      const again = await page(request, statementId, paid.problem);
      return reply.page("books/statement", again, paid.problem.status);
    }
    return reply.seeOther(await nextToPay(request, statementId), {
      kind: "good",
      text: await paidWords(request, statementId),
    });
  });

  app.post<WithPayout>(
    "/books/statements/:id/payouts/:payoutId/void",
    books,
    async (request, reply) => {
      const statementId = wantId(request.params.id, "this statement");
      const payoutId = wantId(request.params.payoutId, "this payout");
      const read = readForm(payoutVoidShape, request.body);
      const done = read.ok ? await voidPayout(request.deed(), { payoutId, ...read.value }) : read;
      if (!done.ok) {
        const again = await page(request, statementId, done.problem);
        return reply.page("books/statement", again, done.problem.status);
      }
      const text = "The payout is void. The statement can be paid again.";
      return reply.seeOther(`/books/statements/${statementId}`, { kind: "good", text });
    },
  );
}

async function one(request: Request, given: string) {
  const id = wantId(given, "this statement");
  const [statement] = await gatherStatements(request.server.parts.db, { id });
  if (!statement) throw notFound("this statement");
  return statement;
}

async function page(request: Request, id: string, problem?: Problem) {
  const { db } = request.server.parts;
  const statement = await one(request, id);
  const [settlement] = await listSettlements(db, { id: statement.settlementId });
  const guild = await guildWords(request);
  const today = dayIn(request.server.now(), guild.timeZone);
  return statementPage({
    statement,
    settlementNumber: settlement?.number ?? 1,
    payouts: await listPayouts(db, statement.id),
    values: problem ? request.body : { method: "cheque", paidOn: today },
    ...(problem ? { problem } : {}),
  });
}

/** Cheques are written one after the other: the next open statement is the next page. */
async function nextToPay(request: Request, statementId: string): Promise<string> {
  const { number, settlementId } = await one(request, statementId);
  const { db } = request.server.parts;
  const open = { paid: "open" as const, limit: 1 };
  const after = await listStatements(db, settlementId, { ...open, after: number });
  const next = after.items[0] ?? (await listStatements(db, settlementId, open)).items[0];
  return next ? `/books/statements/${next.id}` : `/books/settlements/${settlementId}`;
}

async function paidWords(request: Request, statementId: string): Promise<string> {
  const { heading, due } = await one(request, statementId);
  const { money } = await guildWords(request);
  return `${money(due)} to member ${heading.memberNumber}, ${heading.memberName}, is recorded.`;
}
