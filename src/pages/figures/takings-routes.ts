import { onOneSnapshot } from "../../database/figures/snapshot.ts";
import { takingsReport } from "../../database/figures/takings-report.ts";
import type { App } from "../../plugins/types.ts";
import { books, guildWords, saleNamed, type WithSale } from "../books/scene.ts";
import { takingsPage } from "./takings-page.ts";

/** What a sale took, by till, tender, hour and kind of goods. */
export async function takingsPages(app: App): Promise<void> {
  app.get<WithSale>("/books/:saleId/takings", books, async (request, reply) => {
    const sale = await saleNamed(request, request.params.saleId);
    const guild = await guildWords(request);
    const report = await onOneSnapshot(app.parts.db, (tx) =>
      takingsReport(tx, sale.id, guild.timeZone),
    );
    return reply.page("figures/takings", takingsPage(sale, guild, report));
  });
}
