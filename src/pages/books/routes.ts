import { checkBooks } from "../../database/check-books.ts";
import { listDiscrepancies } from "../../database/discrepancies.ts";
import { failedMails } from "../../database/receipt-mails.ts";
import { listSales, listTills } from "../../database/sales.ts";
import { listSettlements } from "../../database/settlements.ts";
import { takingsOf } from "../../database/takings.ts";
import type { App } from "../../plugins/types.ts";
import { daysText } from "../format.ts";
import { cursorOf, nextHref, searchOf } from "../want-id.ts";
import { adjustmentPages } from "./adjustment-routes.ts";
import { differencePages } from "./difference-routes.ts";
import { drawerPages } from "./drawer-routes.ts";
import { exportPages } from "./export-routes.ts";
import { journalPages } from "./journal-routes.ts";
import { mailPages } from "./mail-routes.ts";
import { payoutPages } from "./payout-routes.ts";
import { salePage } from "./sale-page.ts";
import { books, guildWords, places, saleNamed, type WithSale } from "./scene.ts";
import { settlementPages } from "./settlement-routes.ts";
import { statementPages } from "./statement-routes.ts";
import { suspensePages } from "./suspense-routes.ts";

/** The treasurer's place: each sale's figures, settlements, statements, accounts and the journal. */
export async function booksPages(app: App): Promise<void> {
  await app.register(saleList);
  await app.register(oneSale);
  await app.register(drawerPages);
  await app.register(differencePages);
  await app.register(settlementPages);
  await app.register(statementPages);
  await app.register(payoutPages);
  await app.register(mailPages);
  await app.register(journalPages);
  await app.register(exportPages);
  await app.register(suspensePages);
  await app.register(adjustmentPages);
  await app.register(checkPage);
}

async function saleList(app: App): Promise<void> {
  app.get<{ Querystring: { q?: string; after?: string } }>(
    "/books",
    books,
    async (request, reply) => {
      const q = searchOf(request.query.q);
      const page = { q, after: cursorOf(request.query.after), limit: 20 };
      const { items, next } = await listSales(app.parts.db, page);
      const guild = await guildWords(request);
      return reply.page("books/sales", {
        title: "Books",
        places: places("/books"),
        q,
        next: nextHref("/books", next, { q }),
        sales: items.map((sale) => ({
          ...sale,
          href: `/books/${sale.id}`,
          when: daysText(sale.firstDay, sale.lastDay, guild),
        })),
      });
    },
  );
}

async function oneSale(app: App): Promise<void> {
  const { db } = app.parts;

  app.get<WithSale>("/books/:saleId", books, async (request, reply) => {
    const sale = await saleNamed(request, request.params.saleId);
    const parts = {
      sale,
      guild: await guildWords(request),
      takings: await takingsOf(db, sale.id),
      settlements: await listSettlements(db, { saleId: sale.id }),
      openTills: (await listTills(db, sale.id)).filter(({ open }) => open),
      discrepancies: (await listDiscrepancies(db, sale.id, { limit: 20 })).items,
      mails: await failedMails(db, sale.id, 20),
    };
    return reply.page("books/sale", salePage(parts));
  });
}

async function checkPage(app: App): Promise<void> {
  app.get("/books/check", books, async (request, reply) => {
    const { checks, sound, unaccounted } = await checkBooks(app.parts.db);
    const { money } = await guildWords(request);
    return reply.page("books/check", {
      title: "Check the books",
      places: places("/books/check"),
      sound,
      checks,
      pieces: unaccounted.pieces,
      money: money(unaccounted.money),
    });
  });
}
