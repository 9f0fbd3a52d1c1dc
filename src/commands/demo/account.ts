import { checkBooks } from "../../database/check-books.ts";
import type { Database } from "../../database/client.ts";
import { type Takings, takingsOf } from "../../database/takings.ts";
import { formatMoney } from "../../rules/currency.ts";
import { guild } from "./people.ts";
import type { Story } from "./story.ts";

const money = (amount: number): string => formatMoney(amount, guild.currency, guild.locale);
const row = (label: string, value: string | number): void =>
  console.log(`    ${label.padEnd(26)} ${String(value).padStart(12)}`);

/** A short account of both sales: every piece in its place, every cent with its owner. */
export async function printAccount(db: Database, story: Story): Promise<void> {
  for (const saleId of [story.lastSaleId, story.thisSaleId]) {
    const sale = await db.sale.findUniqueOrThrow({ where: { id: saleId } });
    console.log(`\n${sale.name} (${sale.stage})`);
    printSale(await takingsOf(db, saleId));
  }
  const books = await checkBooks(db);
  console.log(`\nThe books: ${books.sound ? "sound" : "NOT SOUND"}`);
  row("unaccounted pieces", books.unaccounted.pieces);
  row("unaccounted money", money(books.unaccounted.money));
  console.log("\nPapers to look at:");
  for (const path of story.papers) console.log(`    ${path}`);
}

function printSale(takings: Takings): void {
  const { pieces } = takings;
  console.log("  Pieces");
  row("entered", pieces.entered);
  row("with members", pieces.withMember);
  row("on the floor", pieces.onFloor);
  row("with buyers", pieces.withBuyer);
  row("lost or with the guild", pieces.lost + pieces.withGuild);
  row("unaccounted", pieces.unaccounted);
  console.log("  Money");
  for (const [kind, amount] of byTender(takings)) row(`taken, ${kind}`, money(amount));
  row("sales tax in it", money(takings.tax));
  row("donated to the guild", money(takings.donated));
  row("guild share, settled", money(takings.guildShare));
  row("card fees members bear", money(takings.cardFee));
  row("fees", money(takings.fees));
  row("missing pieces made good", money(0 - takings.losses));
  row("adjustments", money(0 - takings.adjustments));
  row("paid to members", money(takings.paidOut));
  row("owed to members", money(takings.owed));
  row("unaccounted", money(takings.unaccounted));
}

function byTender({ tenders }: Takings): Map<string, number> {
  const sums = new Map<string, number>();
  for (const { kind, amount } of tenders) sums.set(kind, (sums.get(kind) ?? 0) + amount);
  return sums;
}
