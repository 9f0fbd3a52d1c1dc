import { type Banking, bankingOf } from "../../database/figures/banking.ts";
import { onOneSnapshot } from "../../database/figures/snapshot.ts";
import type { SaleRead } from "../../database/sales.ts";
import type { App } from "../../plugins/types.ts";
import { type DepositSource, depositWords } from "../../rules/bank-entries.ts";
import type { CardMatch } from "../../rules/card-match.ts";
import { dayText } from "../../rules/day.ts";
import {
  books,
  type GuildWords,
  guildWords,
  saleNamed,
  salePlaces,
  type WithSale,
} from "../books/scene.ts";
import { whenText } from "../format.ts";
import { bankNotes } from "./bank-notes.ts";

/** Whether what was taken reached the bank: drawers, cash, cheques and cards. */
export async function bankingPages(app: App): Promise<void> {
  app.get<WithSale>("/books/:saleId/banking", books, async (request, reply) => {
    const sale = await saleNamed(request, request.params.saleId);
    const guild = await guildWords(request);
    const found = await onOneSnapshot(app.parts.db, (tx) => bankingOf(tx, sale.id, guild.timeZone));
    return reply.page("figures/banking", bankingPage(sale, guild, found));
  });
}

function bankingPage(sale: SaleRead, guild: GuildWords, found: Banking) {
  const { money } = guild;
  const path = `/books/${sale.id}`;
  return {
    title: `Bank and cards of ${sale.name}`,
    places: salePlaces(sale.id, "/banking"),
    ...{ backHref: path, depositsHref: `${path}/deposits`, cardsHref: `${path}/card-totals` },
    notes: bankNotes(found, guild),
    drawers: found.drawers.map((row) => ({
      ...{ till: `Till ${row.till}`, href: `/cash-ups/${row.sessionId}` },
      at: whenText(row.at, guild),
      expected: money(row.expected),
      counted: money(row.counted),
      difference: money(row.difference),
    })),
    inHand: found.inHand.map((row) => ({
      source: depositWords[row.source as DepositSource],
      cameIn: money(row.cameIn),
      givenOut: money(row.givenOut),
      banked: money(row.banked),
      still: money(row.still),
    })),
    cards: found.cards.map((row) => cardRow(row, guild)),
    cardSums: {
      recorded: money(found.card.recorded),
      terminal: money(found.card.terminal),
      fees: money(found.card.fees),
      clearing: money(found.card.clearing),
    },
  };
}

const cardRow = ({ day, till, recorded, terminal, difference }: CardMatch, guild: GuildWords) => ({
  day: dayText(day, guild.locale),
  till: till === null ? "All tills" : `Till ${till}`,
  recorded: guild.money(recorded),
  terminal: terminal === null ? "not typed in" : guild.money(terminal),
  difference: difference === null ? "" : guild.money(difference),
});
