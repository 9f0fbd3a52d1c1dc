import { z } from "zod";
import { dropRunItems, payRunItems } from "../../actions/end-run-items.ts";
import { dropItemsShape, payRunShape } from "../../contract/paying.ts";
import { findRun } from "../../database/paying-runs.ts";
import { notFound } from "../../plugins/errors.ts";
import type { App, Request } from "../../plugins/types.ts";
import type { PreparedRun } from "../../rules/paying/run.ts";
import type { Problem } from "../../rules/problem.ts";
import { books, guildWords, type WithId } from "../books/scene.ts";
import { readForm } from "../read-form.ts";
import { wantId } from "../want-id.ts";
import { runPage } from "./run-page.ts";
import { paymentsText, ticked } from "./scene.ts";

/** Boxes send texts; the form always names its payments, so that nothing unseen is recorded. */
const positions = z.preprocess(
  (value) => ticked(value).map((one) => Number(one)),
  payRunShape.shape.positions.unwrap().unwrap(),
);
const payForm = z.object({ positions, paidOn: payRunShape.shape.paidOn });
const dropForm = z.object({ positions, reason: dropItemsShape.shape.reason });

/** One run: what is in it, and what became of each payment. */
export async function runPages(app: App): Promise<void> {
  app.get<WithId>("/books/runs/:id", books, async (request, reply) => {
    const run = await runNamed(request, request.params.id);
    return reply.page("paying/run", runPage(run, { paidOn: run.day }));
  });

  app.post<WithId>("/books/runs/:id/payments", books, async (request, reply) => {
    const { id } = await runNamed(request, request.params.id);
    const read = readForm(payForm, request.body);
    const done = read.ok ? await payRunItems(request.deed(), id, read.value) : read;
    if (!done.ok)
      return reply.page("paying/run", await again(request, done.problem), done.problem.status);
    const { money } = await guildWords(request);
    const text = `${paymentsText(done.value.payments)}, ${money(done.value.total)}: recorded as paid.`;
    return reply.seeOther(`/books/runs/${id}`, { kind: "good", text });
  });

  app.post<WithId>("/books/runs/:id/drops", books, async (request, reply) => {
    const { id } = await runNamed(request, request.params.id);
    const read = readForm(dropForm, request.body);
    const done = read.ok ? await dropRunItems(request.deed(), id, read.value) : read;
    if (!done.ok)
      return reply.page("paying/run", await again(request, done.problem), done.problem.status);
    const text = `${paymentsText(done.value.payments)} dropped. They can be prepared again.`;
    return reply.seeOther(`/books/runs/${id}`, { kind: "good", text });
  });
}

const again = async (request: Request, problem: Problem) =>
  runPage(await runNamed(request, (request.params as { id: string }).id), request.body, problem);

/** The run that an address names. */
export async function runNamed(request: Request, id: string): Promise<PreparedRun> {
  const run = await findRun(request.server.parts.db, wantId(id, "this paying run"));
  if (!run) throw notFound("this paying run");
  return run;
}
