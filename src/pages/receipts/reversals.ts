import { returnGoods } from "../../actions/return-goods.ts";
import { hindrance, voidReceipt } from "../../actions/void-receipt.ts";
import { voidShape } from "../../contract/receipt.ts";
import { type ReceiptRead, readReceipt } from "../../database/receipts.ts";
import { notFound } from "../../plugins/errors.ts";
import type { App, Request } from "../../plugins/types.ts";
import { formatMoney } from "../../rules/currency.ts";
import { type Problem, problem } from "../../rules/problem.ts";
import { readForm } from "../read-form.ts";
import { wantId } from "../want-id.ts";
import { asTyped, readReturn } from "./return-form.ts";
import { returnPage } from "./return-page.ts";

type WithReceipt = { Params: { id: string } };

/** Calling a receipt off, and taking pieces back. */
export async function reversalPages(app: App): Promise<void> {
  const sells = { config: { access: ["cashier", "chair"] as const } };

  app.get<WithReceipt>("/receipts/:id/void", sells, async (request, reply) => {
    const receipt = await receiptOf(request);
    return reply.page("receipts/void", await voidPage(app, receipt));
  });

  app.post<WithReceipt>("/receipts/:id/void", sells, async (request, reply) => {
    const receipt = await receiptOf(request);
    const read = readForm(voidShape, request.body);
    const done = read.ok
      ? await voidReceipt(request.deed(), { receiptId: receipt.id, ...read.value })
      : read;
    if (!done.ok) {
      const page = await voidPage(app, receipt, done.problem);
      return reply.page("receipts/void", { ...page, values: request.body }, done.problem.status);
    }
    return reply.seeOther(`/receipts/${receipt.id}`, {
      kind: "good",
      text: `Receipt ${receipt.name} is called off with ${done.value.name}. Give ${await money(app, done.value.back)} back.`,
    });
  });

  app.get<WithReceipt>("/receipts/:id/return", sells, async (request, reply) =>
    reply.page("receipts/return", await returnPage(app, await receiptOf(request))),
  );

  app.post<WithReceipt>("/receipts/:id/return", sells, async (request, reply) => {
    const receipt = await receiptOf(request);
    const read = readReturn(request.body, receipt);
    const done = read.ok
      ? await returnGoods(request.deed(), { receiptId: receipt.id, ...read.value })
      : read;
    if (!done.ok) {
      const refused = read.ok ? asTyped(done.problem, read.value, receipt) : done.problem;
      const page = await returnPage(app, receipt, { values: request.body, problem: refused });
      return reply.page("receipts/return", page, refused.status);
    }
    return reply.seeOther(`/receipts/${done.value.id}`, {
      kind: "good",
      text: `The return is recorded as ${done.value.name}. Give ${await money(app, done.value.back)} back.`,
    });
  });
}

async function receiptOf(request: Request): Promise<ReceiptRead> {
  const { id } = request.params as { id: string };
  const receipt = await readReceipt(request.server.parts.db, wantId(id, "this receipt"));
  if (!receipt) throw notFound("this receipt");
  return receipt;
}

async function money(app: App, amount: number): Promise<string> {
  const guild = await app.parts.db.guild.findFirstOrThrow();
  return formatMoney(amount, guild.currency, guild.locale);
}

async function voidPage(app: App, receipt: ReceiptRead, refused?: Problem) {
  const hindered = hindrance(receipt);
  const pieces = receipt.lines.reduce((sum, { quantity }) => sum + quantity, 0);
  return {
    title: `Call off receipt ${receipt.name}`,
    action: `/receipts/${receipt.id}/void`,
    receiptHref: `/receipts/${receipt.id}`,
    total: await money(app, receipt.total),
    pieces: pieces === 1 ? "The piece goes" : `All ${pieces} pieces go`,
    possible: hindered === undefined,
    problem: refused ?? (hindered && problem(hindered.code, hindered.detail)),
  };
}
