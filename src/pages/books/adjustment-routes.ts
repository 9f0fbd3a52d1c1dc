import { recordAdjustment } from "../../actions/adjustments/record-adjustment.ts";
import { takeBackAdjustment } from "../../actions/adjustments/take-back-adjustment.ts";
import { type AdjustmentInput, adjustmentShape, takeBackShape } from "../../contract/adjustment.ts";
import { type AdjustmentRead, listAdjustments } from "../../database/adjustments.ts";
import { notFound } from "../../plugins/errors.ts";
import type { App, Reply, Request } from "../../plugins/types.ts";
import { parseMoney } from "../../rules/currency.ts";
import { momentText } from "../../rules/moment.ts";
import { type FieldError, ok, type Problem, problem, type Result } from "../../rules/problem.ts";
import { allows } from "../../rules/sale-stage.ts";
import { type Fields, textOf } from "../items/fields.ts";
import { readForm } from "../read-form.ts";
import { cursorOf, nextHref, searchOf, wantId } from "../want-id.ts";
import { books, type GuildWords, guildWords, saleNamed, type WithSale } from "./scene.ts";

type WithAdjustment = { Params: { saleId: string; adjustmentId: string } };
interface Shown {
  problem?: Problem;
  /** The adjustment whose form for taking it back is open. */
  open?: string;
}

/** Money for members or from them by somebody's decision: the list, a form, and taking back. */
export async function adjustmentPages(app: App): Promise<void> {
  app.get<WithSale>("/books/:saleId/adjustments", books, async (request, reply) => {
    const { back } = request.query as { back?: unknown };
    return adjustmentPage(request, reply, typeof back === "string" ? { open: back } : {});
  });

  app.post<WithSale>("/books/:saleId/adjustments", books, async (request, reply) => {
    const sale = await saleNamed(request, request.params.saleId);
    const { currency, money } = await guildWords(request);
    const read = readAdjustment(request.body as Fields, currency);
    const done = read.ok ? await recordAdjustment(request.deed(), sale.id, read.value) : read;
    if (!done.ok) return adjustmentPage(request, reply, { problem: done.problem });
    const { amount } = done.value;
    const text = `${money(Math.abs(amount))} ${amount > 0 ? "for" : "from"} the member is recorded.`;
    return reply.seeOther(`/books/${sale.id}/adjustments`, { kind: "good", text });
  });

  app.post<WithAdjustment>(
    "/books/:saleId/adjustments/:adjustmentId/opposite",
    books,
    async (request, reply) => {
      const adjustmentId = wantId(request.params.adjustmentId, "this adjustment");
      const sale = await saleNamed(request, request.params.saleId);
      const own = { id: adjustmentId, saleId: sale.id };
      if (!(await app.parts.db.adjustment.findFirst({ where: own })))
        throw notFound("this adjustment");
      const read = readForm(takeBackShape, request.body);
      const given = { adjustmentId, reason: read.ok ? read.value.reason : "" };
      const done = read.ok ? await takeBackAdjustment(request.deed(), given) : read;
      if (!done.ok)
        return adjustmentPage(request, reply, { problem: done.problem, open: adjustmentId });
      const text = "It is taken back. Both stand in the books.";
      return reply.seeOther(`/books/${sale.id}/adjustments`, { kind: "good", text });
    },
  );
}

/** The amount is typed without a sign; two radios say which way the money goes. */
function readAdjustment(fields: Fields, currency: string): Result<AdjustmentInput> {
  const way = textOf(fields, "way");
  const typed = textOf(fields, "amount");
  const amount = parseMoney(typed, currency, "amount");
  const number = textOf(fields, "member");
  const shape = readForm(adjustmentShape, {
    member: /^\d{1,4}$/.test(number) ? Number(number) : undefined,
    amount: amount.ok ? (way === "from" ? 0 - amount.value : amount.value) : 1,
    reason: textOf(fields, "reason"),
  });
  const errors: FieldError[] = [
    ...(shape.ok ? [] : shape.problem.errors),
    ...(amount.ok ? [] : amount.problem.errors),
    ...(amount.ok && amount.value < 0
      ? [{ field: "amount", message: "Type the amount without a minus and choose below" }]
      : []),
    ...(["for", "from"].includes(way)
      ? []
      : [{ field: "way", message: "Choose whether it is for or from the member" }]),
  ];
  if (shape.ok && errors.length === 0) return ok(shape.value);
  const detail = "Nothing was recorded yet. What you typed is still here.";
  return { ok: false, problem: problem("invalid-input", detail, errors) };
}

async function adjustmentPage(request: Request, reply: Reply, shown: Shown) {
  const sale = await saleNamed(request, (request.params as { saleId: string }).saleId);
  const guild = await guildWords(request);
  const query = request.query as { q?: string; after?: string };
  const q = searchOf(query.q);
  const page = { q, after: cursorOf(query.after), limit: 30 };
  const { items, next } = await listAdjustments(request.server.parts.db, sale.id, page);
  const path = `/books/${sale.id}/adjustments`;
  const may = allows(sale.stage, "adjust");
  const data = {
    title: `Adjustments of ${sale.name}`,
    ...{ sale, path, q, may, any: items.length > 0 || q !== "" },
    openForm: may && items.some(({ id }) => id === shown.open),
    adjustments: items.map((row) => adjustmentRow(row, guild, { path, may, ...shown })),
    next: nextHref(path, next, { q }),
    ...(shown.problem ? { problem: shown.problem, values: request.body } : {}),
  };
  return reply.page("books/adjustments", data, shown.problem?.status ?? 200);
}

const adjustmentRow = (
  row: AdjustmentRead,
  guild: GuildWords,
  { path, may, open }: { path: string; may: boolean; open?: string },
) => ({
  id: row.id,
  // "$4.00 from 101 Weaver": the word says which way, and a minus beside it would say it twice.
  title: `${guild.money(Math.abs(row.amount))} ${row.amount > 0 ? "for" : "from"} ${row.memberNumber} ${row.memberName}`,
  reason: row.reason,
  by: `${row.by}, ${momentText(row.at, guild.locale, guild.timeZone)}`,
  state:
    row.statementNumber === null
      ? "Comes on the next settlement"
      : `Stands on statement ${row.statementNumber}`,
  note: row.takesBackId ? "Takes an earlier one back" : row.takenBack ? "Taken back" : "",
  mayTakeBack: may && !row.takenBack && row.takesBackId === null,
  open: may && row.id === open,
  backHref: `${path}?back=${row.id}#a-${row.id}`,
  action: `${path}/${row.id}/opposite`,
});
