import { cashUpsOf } from "../../database/cash-moves.ts";
import { listTills } from "../../database/sales.ts";
import type { App } from "../../plugins/types.ts";
import { whenText } from "../format.ts";
import { books, guildWords, saleNamed, type WithSale } from "./scene.ts";

/** The drawers of a sale: which are open, and how each cash-up came out. */
export async function drawerPages(app: App): Promise<void> {
  app.get<WithSale>("/books/:saleId/drawers", books, async (request, reply) => {
    const sale = await saleNamed(request, request.params.saleId);
    const guild = await guildWords(request);
    const tills = await listTills(app.parts.db, sale.id);
    const cashUps = await cashUpsOf(app.parts.db, sale.id);
    return reply.page("books/drawers", {
      title: `Drawers of ${sale.name}`,
      sale,
      open: tills
        .filter(({ open }) => open)
        .map(({ id, number }) => ({ number, href: `/till/${id}/cash` })),
      cashUps: cashUps.map((row) => ({
        href: `/cash-ups/${row.sessionId}`,
        till: `Till ${row.tillNumber}`,
        when: whenText(row.at, guild),
        counted: guild.money(row.counted),
        difference: guild.money(row.difference),
      })),
    });
  });
}
