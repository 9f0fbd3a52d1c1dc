import { listSoldPieces, owedBy, resultsOf, type SaleResult } from "../../database/results.ts";
import { gatherStatements } from "../../database/statements.ts";
import { notFound } from "../../plugins/errors.ts";
import type { App, Request } from "../../plugins/types.ts";
import { formatMoney } from "../../rules/currency.ts";
import { momentText } from "../../rules/moment.ts";
import { showTag } from "../../rules/tag-number.ts";
import { daysText } from "../format.ts";
import { sendStatements } from "../statement-pdf.ts";
import { cursorOf, nextHref, wantId } from "../want-id.ts";
import { explained, statementRow } from "./statement-rows.ts";

const mine = { config: { access: "signed-in" as const } };

type WithId = { Params: { id: string }; Querystring: { after?: string } };

/** A member's own page: what sold and when, what it brings, past sales. Only one's own rows. */
export async function resultsPages(app: App): Promise<void> {
  const { db } = app.parts;

  app.get("/results", mine, async (request, reply) => {
    const guild = await db.guild.findFirstOrThrow();
    const money = (amount: number) => formatMoney(amount, guild.currency, guild.locale);
    const results = await resultsOf(db, request.who().id);
    const owed = owedBy(results);
    return reply.page("results/results", {
      title: "My sales",
      owed: money(owed),
      owes: owed < 0 ? money(0 - owed) : "",
      sales: results.map((sale) => saleRow(sale, money, guild.locale)),
    });
  });

  app.get<WithId>("/results/:id", mine, async (request, reply) =>
    reply.page("results/sale", await soldPage(request, request.params.id, request.query.after)),
  );

  app.get<WithId>("/results/statements/:id/pdf", mine, async (request, reply) => {
    const id = wantId(request.params.id, "this statement");
    const own = { id, memberId: request.who().id };
    const statements = await gatherStatements(db, own);
    return sendStatements(reply, statements);
  });
}

const saleRow = (sale: SaleResult, money: (amount: number) => string, locale: string) => ({
  ...sale,
  href: `/results/${sale.saleId}`,
  when: daysText(sale.firstDay, sale.lastDay, { locale }),
  gross: money(sale.gross),
  guildShare: money(sale.guildShare),
  net: money(sale.net),
  settled: sale.statements.length > 0,
  statements: sale.statements.map((one) => statementRow(one, money)),
});

async function soldPage(request: Request, given: string, after: unknown) {
  const { db } = request.server.parts;
  const saleId = wantId(given, "this sale");
  const memberId = request.who().id;
  const sale = (await resultsOf(db, memberId)).find((one) => one.saleId === saleId);
  if (!sale) throw notFound("this sale");
  const guild = await db.guild.findFirstOrThrow();
  const money = (amount: number) => formatMoney(amount, guild.currency, guild.locale);
  const page = { after: cursorOf(after), limit: 50 };
  const { items, next } = await listSoldPieces(db, { memberId, saleId }, page);
  return {
    title: sale.saleName,
    ...saleRow(sale, money, guild.locale),
    statements: await explained(db, sale, memberId),
    next: nextHref(`/results/${saleId}`, next, {}),
    pieces: items.map((piece) => ({
      ...piece,
      at: momentText(piece.at, guild.locale, guild.timeZone),
      tag: showTag(piece.tag),
      amount: money(piece.amount),
      back: piece.quantity < 0,
    })),
  };
}
