import { z } from "zod";
import { findOwner } from "../../actions/find-owner.ts";
import { type OwnerInput, ownerShape } from "../../contract/suspense.ts";
import { listSuspense, type SuspendedLine } from "../../database/suspense.ts";
import type { App, Reply, Request } from "../../plugins/types.ts";
import { momentText } from "../../rules/moment.ts";
import { ok, type Problem, type Result } from "../../rules/problem.ts";
import { showReceiptNumber } from "../../rules/receipt-number.ts";
import { showTag } from "../../rules/tag-number.ts";
import { readForm } from "../read-form.ts";
import { cursorOf, nextHref, wantId } from "../want-id.ts";
import { wordsOf } from "./discrepancy-words.ts";
import { books, type GuildWords, guildWords, saleNamed, type WithSale } from "./scene.ts";

type WithLine = { Params: { saleId: string; lineId: string } };
interface Shown {
  problem?: Problem;
  values?: object;
  lineId?: string;
}

/** What was paid for pieces that are nobody's yet, each with a form that says whose it is. */
export async function suspensePages(app: App): Promise<void> {
  app.get<WithSale>("/books/:saleId/suspense", books, async (request, reply) =>
    suspensePage(request, reply, { lineId: (request.query as { line?: string }).line }),
  );

  app.post<WithLine>("/books/:saleId/suspense/:lineId", books, async (request, reply) => {
    const lineId = wantId(request.params.lineId, "this line");
    const read = readOwner(request.body);
    const done = read.ok ? await findOwner(request.deed(), { ...read.value, lineId }) : read;
    if (!done.ok)
      return suspensePage(request, reply, {
        ...{ problem: done.problem, values: request.body as object, lineId },
      });
    return reply.seeOther(`/books/${request.params.saleId}/suspense`, {
      kind: "good",
      text: "It has its owner now, and the money has left suspense.",
    });
  });
}

const form = z
  .object({
    owner: ownerShape.shape.owner,
    member: z.string().trim().default(""),
    tag: z.string().trim().default(""),
    reason: ownerShape.shape.reason,
  })
  .loose();

function readOwner(body: unknown): Result<OwnerInput> {
  const read = readForm(form, body);
  if (!read.ok) return read;
  const { owner, member, tag, reason } = read.value;
  const number = /^\d{1,4}$/.test(member) ? Number(member) : undefined;
  return ok({ owner, reason, ...(number ? { member: number } : {}), ...(tag ? { tag } : {}) });
}

async function suspensePage(request: Request, reply: Reply, shown: Shown) {
  const sale = await saleNamed(request, (request.params as { saleId: string }).saleId);
  const guild = await guildWords(request);
  const page = { after: cursorOf((request.query as { after?: string }).after), limit: 20 };
  const { items, next } = await listSuspense(request.server.parts.db, sale.id, page);
  const path = `/books/${sale.id}/suspense`;
  const data = {
    title: `In suspense at ${sale.name}`,
    booksHref: `/books/${sale.id}`,
    lines: items.map((line) => lineWords(line, guild, path, shown.lineId)),
    next: nextHref(path, next, {}),
    ...(shown.problem ? { problem: shown.problem, values: shown.values } : {}),
  };
  return reply.page("books/suspense", data, shown.problem?.status ?? 200);
}

const lineWords = (line: SuspendedLine, guild: GuildWords, path: string, open?: string) => ({
  id: line.id,
  action: `${path}/${line.id}`,
  /** The form that was refused shows what was typed; the others start empty. */
  open: line.id === open,
  description: line.description,
  tag: line.tag ? showTag(line.tag) : "",
  quantity: line.quantity,
  amount: guild.money(Number(line.amount)),
  receipt: showReceiptNumber(line.tillNumber, line.receiptNumber),
  receiptHref: `/receipts/${line.receiptId}`,
  at: momentText(line.at, guild.locale, guild.timeZone),
  said: line.memberNumber ? `The till was told: member ${line.memberNumber}.` : "",
  notes: line.notes.map(wordsOf),
});
