import type { z } from "zod";
import { soldFilter, soldPieceOfMine, soldShown } from "../contract/sold.ts";
import { onOneSnapshot } from "../database/figures/snapshot.ts";
import { listElsewhere } from "../database/sold/elsewhere.ts";
import { soldRowsOf } from "../database/sold/sold-rows.ts";
import type { App, Request } from "../plugins/types.ts";
import { printSoldSummary } from "../printing/sold-summary.ts";
import { csvText } from "../rules/csv.ts";
import { formatMoney } from "../rules/currency.ts";
import { dayIn } from "../rules/day.ts";
import { elsewhereCsv } from "../rules/sold/elsewhere-csv.ts";
import { payOf } from "../rules/sold/figures.ts";
import type { SoldFilter } from "../rules/sold/groups.ts";
import { found, pageOfRows } from "../rules/sold/list.ts";
import { bandWords } from "../rules/sold/price-band.ts";
import { soldReport } from "../rules/sold/report.ts";
import { soldCsv } from "../rules/sold/sold-csv.ts";
import { elsewhereApi } from "./elsewhere.ts";
import { pageOf, pageQuery, refusals, typed } from "./typed.ts";

const mine = { access: "signed-in" as const };
const tags = ["bench"];

/** What became of one's own pieces; there is no way to ask for anybody else's. */
export async function soldApi(app: App): Promise<void> {
  await app.register(elsewhereApi);
  const route = typed(app);
  const { db } = app.parts;
  const rowsFor = (request: Request) => onOneSnapshot(db, (tx) => soldRowsOf(tx, request.who().id));

  route.get("/me/sold", {
    config: mine,
    schema: {
      tags,
      summary: "What sold of mine, at the guild's sales and elsewhere, in all and in groups",
      querystring: soldFilter,
      response: { 200: soldShown, ...refusals },
    },
    handler: async (request) => {
      const guild = await db.guild.findFirstOrThrow();
      return soldReport(await rowsFor(request as Request), given(request.query), bandsOf(guild));
    },
  });

  route.get("/me/sold/pieces", {
    config: mine,
    schema: {
      tags,
      summary: "The pieces behind those figures: sold ones first, the newest on top, then the rest",
      querystring: pageQuery.extend(soldFilter.shape),
      response: { 200: pageOf(soldPieceOfMine), ...refusals },
    },
    handler: async (request) => {
      const { after, limit, q, ...filter } = request.query;
      const rows = found(await rowsFor(request as Request), given(filter), q);
      const { items, next } = pageOfRows(rows, { after, limit });
      return { items: items.map((row) => ({ ...row, perHour: payOf([row]).perHour })), next };
    },
  });

  app.get("/me/sold/pieces.csv", {
    config: mine,
    schema: { tags, summary: "All of them as CSV" } as object,
    handler: async (request, reply) => {
      const guild = await db.guild.findFirstOrThrow();
      const rows = await rowsFor(request);
      return reply.type("text/csv; charset=utf-8").send(csvText(soldCsv(rows, guild)));
    },
  });

  app.get("/me/sold/summary.pdf", {
    config: mine,
    schema: { tags, summary: "The figures on paper, as PDF" } as object,
    handler: async (request, reply) => {
      const guild = await db.guild.findFirstOrThrow();
      const report = soldReport(await rowsFor(request), {}, bandsOf(guild));
      const about = { guild, member: request.who(), day: dayIn(app.now(), guild.timeZone) };
      const bytes = await printSoldSummary({ ...about, report }, app.now());
      return reply.type("application/pdf").send(Buffer.from(bytes));
    },
  });

  app.get("/me/elsewhere.csv", {
    config: mine,
    schema: { tags, summary: "What I sold elsewhere, as CSV" } as object,
    handler: async (request, reply) => {
      const { currency } = await db.guild.findFirstOrThrow();
      const { items } = await listElsewhere(db, request.who().id);
      return reply.type("text/csv; charset=utf-8").send(csvText(elsewhereCsv(items, currency)));
    },
  });
}

const bandsOf = ({ currency, locale }: { currency: string; locale: string }) => {
  const money = (amount: number) => formatMoney(amount, currency, locale);
  return (band: number) => bandWords(band, currency, money);
};

/** An empty word in an address asks for nothing. */
const given = (query: z.output<typeof soldFilter>): SoldFilter =>
  Object.fromEntries(Object.entries(query).filter(([, value]) => value)) as SoldFilter;
