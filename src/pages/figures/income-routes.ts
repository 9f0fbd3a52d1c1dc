import { type IncomeLine, incomeStatement } from "../../database/figures/income-statement.ts";
import { onOneSnapshot } from "../../database/figures/snapshot.ts";
import type { App } from "../../plugins/types.ts";
import { books, guildWords, saleNamed, salePlaces, type WithSale } from "../books/scene.ts";
import { agreement } from "./agreement.ts";

/** What a sale brought the guild itself. */
export async function incomePages(app: App): Promise<void> {
  app.get<WithSale>("/books/:saleId/income", books, async (request, reply) => {
    const sale = await saleNamed(request, request.params.saleId);
    const { money } = await guildWords(request);
    const found = await onOneSnapshot(app.parts.db, (tx) => incomeStatement(tx, sale.id));
    const lines = (rows: IncomeLine[]) =>
      rows.map(({ account, name, amount }) => ({
        ...{ name, amount: money(amount) },
        href: `/books/journal?${new URLSearchParams({ account, sale: sale.id })}`,
      }));
    const sum = (rows: IncomeLine[]) => money(rows.reduce((all, { amount }) => all + amount, 0));
    const { assets, owed, result } = found;
    return reply.page("figures/income", {
      title: `What the guild made at ${sale.name}`,
      places: salePlaces(sale.id, "/income"),
      backHref: `/books/${sale.id}`,
      isEmpty: found.income.length + found.expenses.length === 0,
      agreement: agreement(found.agrees, `The result is ${money(result)}`, money(assets - owed)),
      income: { rows: lines(found.income), sum: sum(found.income) },
      expenses: { rows: lines(found.expenses), sum: sum(found.expenses) },
      result: money(result),
      otherSide: [
        {
          label: "In drawers, cash box, safe, at the bank and to come from cards",
          value: money(assets),
        },
        { label: "Owed to members, in tax and in suspense", value: money(0 - owed) },
        { label: "What is left for the guild", value: money(assets - owed) },
      ],
    });
  });
}
