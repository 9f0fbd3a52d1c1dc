import { recordDeposit } from "../../actions/record-deposit.ts";
import { voidDeposit } from "../../actions/void-deposit.ts";
import { bankVoidShape, type DepositInput, depositShape } from "../../contract/banking.ts";
import { listDeposits } from "../../database/figures/banked.ts";
import type { App, Request } from "../../plugins/types.ts";
import { depositSources, depositWords } from "../../rules/bank-entries.ts";
import { dayIn, dayText } from "../../rules/day.ts";
import type { Problem, Result } from "../../rules/problem.ts";
import { books, guildWords, saleNamed, type WithSale } from "../books/scene.ts";
import { readForm } from "../read-form.ts";
import { cursorOf, nextHref, searchOf, wantId } from "../want-id.ts";
import { readPriced } from "./priced-form.ts";
import { voidPage } from "./void-page.ts";

type WithDeposit = { Params: { saleId: string; id: string } };

const voided = {
  ...{ list: "deposits", what: "this deposit" },
  ...{ title: "Void a deposit", back: "Cash and cheques banked" },
};

/** Cash and cheques that were taken to the bank: typed in, and taken back with a reason. */
export async function depositPages(app: App): Promise<void> {
  app.get<WithSale>("/books/:saleId/deposits", books, async (request, reply) =>
    reply.page("figures/deposits", await page(request as Request)),
  );

  app.post<WithSale>("/books/:saleId/deposits", books, async (request, reply) => {
    const { id: saleId } = await saleNamed(request, request.params.saleId);
    const { currency } = await guildWords(request);
    const read: Result<DepositInput> = readPriced(depositShape, request.body, currency, ["amount"]);
    const done = read.ok ? await recordDeposit(request.deed(), { ...read.value, saleId }) : read;
    if (!done.ok) {
      const again = await page(request as Request, done.problem);
      return reply.page("figures/deposits", again, done.problem.status);
    }
    const text = "The deposit is recorded.";
    return reply.seeOther(`/books/${saleId}/deposits`, { kind: "good", text });
  });

  app.get<WithDeposit>("/books/:saleId/deposits/:id/void", books, async (request, reply) =>
    reply.page("figures/void", await voidPage(request as Request, voided)),
  );

  app.post<WithDeposit>("/books/:saleId/deposits/:id/void", books, async (request, reply) => {
    const depositId = wantId(request.params.id, "this deposit");
    const read = readForm(bankVoidShape, request.body);
    const done = read.ok ? await voidDeposit(request.deed(), { depositId, ...read.value }) : read;
    if (!done.ok) {
      const again = await voidPage(request as Request, voided, done.problem);
      return reply.page("figures/void", again, done.problem.status);
    }
    const text = "The deposit is void. It stays in the list with its reason.";
    return reply.seeOther(`/books/${request.params.saleId}/deposits`, { kind: "good", text });
  });
}

async function page(request: Request, problem?: Problem) {
  const { parts, now } = request.server;
  const sale = await saleNamed(request, (request.params as { saleId: string }).saleId);
  const guild = await guildWords(request);
  const asked = request.query as { q?: string; after?: string };
  const q = searchOf(asked.q);
  const found = await listDeposits(parts.db, sale.id, {
    ...{ q, after: cursorOf(asked.after), limit: 20 },
  });
  const path = `/books/${sale.id}/deposits`;
  return {
    title: `Cash and cheques of ${sale.name} at the bank`,
    ...{ path, q, backHref: `/books/${sale.id}/banking` },
    sources: depositSources.map((value) => ({ value, label: depositWords[value] })),
    values: problem ? request.body : { source: "cash-box", bankedOn: dayIn(now(), guild.timeZone) },
    problem,
    deposits: found.items.map((row) => ({
      ...row,
      what: depositWords[row.source],
      day: dayText(row.day, guild.locale),
      amount: guild.money(row.amount),
      voidHref: `${path}/${row.id}/void`,
    })),
    next: nextHref(path, found.next, { q }),
  };
}
