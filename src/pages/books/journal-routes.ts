import { listBalances, listEntries } from "../../database/journal.ts";
import type { App, Request } from "../../plugins/types.ts";
import { momentText } from "../../rules/moment.ts";
import { nextHref, searchOf } from "../want-id.ts";
import { books, guildWords, numberAfter, places, saleNamed } from "./scene.ts";

type Query = { Querystring: { q?: string; after?: string; account?: string; sale?: string } };

/** The ledger of money as people read it: accounts and entries. */
export async function journalPages(app: App): Promise<void> {
  const { db } = app.parts;

  app.get("/books/accounts", books, async (request, reply) => {
    const { money } = await guildWords(request);
    const accounts = (await listBalances(db)).map((row) => ({
      ...row,
      href: `/books/journal?account=${encodeURIComponent(row.key)}`,
      debit: row.balance > 0 ? money(row.balance) : "",
      credit: row.balance < 0 ? money(0 - row.balance) : "",
    }));
    const shown = accounts.filter(({ balance }) => balance !== 0);
    const title = "Accounts";
    const still = accounts.length - shown.length;
    return reply.page("books/accounts", { title, places: places("/books/accounts"), shown, still });
  });

  app.get<Query>("/books/journal", books, async (request, reply) =>
    reply.page("books/journal", await journalPage(request, request.query)),
  );
}

async function journalPage(request: Request, query: Query["Querystring"]) {
  const { db } = request.server.parts;
  const guild = await guildWords(request);
  const q = searchOf(query.q);
  const account = searchOf(query.account);
  const sale = typeof query.sale === "string" ? await saleNamed(request, query.sale) : undefined;
  const saleId = sale?.id;
  const after = numberAfter(query.after);
  const filter = { q, account, saleId, limit: 30, ...(after > 0 ? { before: BigInt(after) } : {}) };
  const { items, next } = await listEntries(db, filter);
  const [named] = account ? (await listBalances(db)).filter(({ key }) => key === account) : [];
  return {
    title: "Journal",
    places: places("/books/journal"),
    q,
    account,
    sale,
    only: [
      ...(account ? [named?.name ?? "an account we do not know"] : []),
      ...(sale ? [sale.name] : []),
    ].join(", "),
    next: nextHref("/books/journal", next, { q, account, sale: saleId ?? "" }),
    entries: items.map((entry) => ({
      number: entry.number,
      at: momentText(entry.at, guild.locale, guild.timeZone),
      description: entry.description,
      postings: entry.postings.map(({ name, amount }) => ({
        name,
        debit: amount > 0 ? guild.money(amount) : "",
        credit: amount < 0 ? guild.money(0 - amount) : "",
      })),
    })),
  };
}
