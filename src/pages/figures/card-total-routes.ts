import { recordCardTotal } from "../../actions/record-card-total.ts";
import { voidCardTotal } from "../../actions/void-card-total.ts";
import { bankVoidShape, type CardTotalInput, cardTotalShape } from "../../contract/banking.ts";
import { listCardTotals } from "../../database/figures/banked.ts";
import { listTills } from "../../database/sales.ts";
import type { App, Request } from "../../plugins/types.ts";
import { dayIn, dayText } from "../../rules/day.ts";
import type { Problem, Result } from "../../rules/problem.ts";
import { books, guildWords, saleNamed, type WithSale } from "../books/scene.ts";
import { readForm } from "../read-form.ts";
import { cursorOf, nextHref, searchOf, wantId } from "../want-id.ts";
import { readPriced } from "./priced-form.ts";
import { voidPage } from "./void-page.ts";

type WithTotal = { Params: { saleId: string; id: string } };

const voided = {
  ...{ list: "card-totals", what: "this card total" },
  ...{ title: "Void a card total", back: "Totals of the card terminal" },
};

/** What the card terminal says of each day: typed in, and taken back with a reason. */
export async function cardTotalPages(app: App): Promise<void> {
  app.get<WithSale>("/books/:saleId/card-totals", books, async (request, reply) =>
    reply.page("figures/card-totals", await page(request as Request)),
  );

  app.post<WithSale>("/books/:saleId/card-totals", books, async (request, reply) => {
    const { id: saleId } = await saleNamed(request, request.params.saleId);
    const { currency } = await guildWords(request);
    const read = readTotal(request.body, currency);
    const done = read.ok ? await recordCardTotal(request.deed(), { ...read.value, saleId }) : read;
    if (!done.ok) {
      const again = await page(request as Request, done.problem);
      return reply.page("figures/card-totals", again, done.problem.status);
    }
    const text = "The total of the terminal is recorded.";
    return reply.seeOther(`/books/${saleId}/card-totals`, { kind: "good", text });
  });

  app.get<WithTotal>("/books/:saleId/card-totals/:id/void", books, async (request, reply) =>
    reply.page("figures/void", await voidPage(request as Request, voided)),
  );

  app.post<WithTotal>("/books/:saleId/card-totals/:id/void", books, async (request, reply) => {
    const cardTotalId = wantId(request.params.id, "this card total");
    const read = readForm(bankVoidShape, request.body);
    const done = read.ok
      ? await voidCardTotal(request.deed(), { cardTotalId, ...read.value })
      : read;
    if (!done.ok) {
      const again = await voidPage(request as Request, voided, done.problem);
      return reply.page("figures/void", again, done.problem.status);
    }
    const text = "The card total is void. It stays in the list with its reason.";
    return reply.seeOther(`/books/${request.params.saleId}/card-totals`, { kind: "good", text });
  });
}

/** "All tills together" is the empty choice; an empty fee is none. */
function readTotal(body: unknown, currency: string): Result<CardTotalInput> {
  const fields = body as { tillId?: unknown; fee?: unknown };
  const tillId = fields.tillId === "" || fields.tillId === undefined ? null : fields.tillId;
  const fee = fields.fee === undefined || fields.fee === "" ? "0" : fields.fee;
  return readPriced(cardTotalShape, { ...fields, tillId, fee }, currency, ["gross", "fee"]);
}

async function page(request: Request, problem?: Problem) {
  const { parts, now } = request.server;
  const sale = await saleNamed(request, (request.params as { saleId: string }).saleId);
  const guild = await guildWords(request);
  const asked = request.query as { q?: string; after?: string };
  const q = searchOf(asked.q);
  const found = await listCardTotals(parts.db, sale.id, {
    ...{ q, after: cursorOf(asked.after), limit: 20 },
  });
  const tills = await listTills(parts.db, sale.id);
  const path = `/books/${sale.id}/card-totals`;
  return {
    title: `Totals of the card terminal, ${sale.name}`,
    ...{ path, q, backHref: `/books/${sale.id}/banking` },
    tills: tills.map(({ id, number }) => ({ value: id, label: `Till ${number}` })),
    values: problem ? request.body : { day: dayIn(now(), guild.timeZone) },
    problem,
    totals: found.items.map((row) => ({
      ...row,
      till: row.till === null ? "All tills" : `Till ${row.till}`,
      day: dayText(row.day, guild.locale),
      gross: guild.money(row.gross),
      fee: guild.money(row.fee),
      voidHref: `${path}/${row.id}/void`,
    })),
    next: nextHref(path, found.next, { q }),
  };
}
