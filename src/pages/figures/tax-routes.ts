import { onOneSnapshot } from "../../database/figures/snapshot.ts";
import {
  type TaxScope,
  type TaxWorksheet,
  taxWorksheet,
} from "../../database/figures/tax-worksheet.ts";
import type { App, Request } from "../../plugins/types.ts";
import { rateText } from "../../rules/currency.ts";
import { dayIn, spanText } from "../../rules/day.ts";
import type { Problem } from "../../rules/problem.ts";
import {
  books,
  type GuildWords,
  guildWords,
  places,
  saleNamed,
  salePlaces,
  type WithSale,
} from "../books/scene.ts";
import { agreement } from "./agreement.ts";
import { readSpan, type Span } from "./day-span.ts";
import { figure, sendCsv } from "./send-csv.ts";

type WithSpan = { Querystring: { from?: string; to?: string } };

/** What a tax return asks for, of a sale or of a span of days. */
export async function taxPages(app: App): Promise<void> {
  app.get<WithSale>("/books/:saleId/tax", books, async (request, reply) => {
    const sale = await saleNamed(request, request.params.saleId);
    const guild = await guildWords(request);
    const sheet = await read(request, { saleId: sale.id });
    return reply.page("figures/tax", {
      ...taxPage(sheet, guild, { sale: sale.id }),
      title: `Sales tax of ${sale.name}`,
      places: salePlaces(sale.id, "/tax"),
      backHref: `/books/${sale.id}`,
      csvHref: `/books/${sale.id}/tax.csv`,
    });
  });

  app.get<WithSale>("/books/:saleId/tax.csv", books, async (request, reply) => {
    const sale = await saleNamed(request, request.params.saleId);
    const sheet = await read(request, { saleId: sale.id });
    return sendCsv(reply, "sales-tax.csv", csvRows(sheet, await guildWords(request)));
  });

  app.get<WithSpan>("/books/tax", books, async (request, reply) => {
    const guild = await guildWords(request);
    const asked = readSpan(request.query, dayIn(app.now(), guild.timeZone), guild.timeZone);
    const page = await spanPage(request, guild, asked.span, asked.problem);
    return reply.page("figures/tax", page, asked.problem?.status ?? 200);
  });

  app.get<WithSpan>("/books/tax.csv", books, async (request, reply) => {
    const guild = await guildWords(request);
    const asked = readSpan(request.query, dayIn(app.now(), guild.timeZone), guild.timeZone);
    if (asked.problem)
      return reply.page(
        "figures/tax",
        await spanPage(request, guild, asked.span, asked.problem),
        400,
      );
    const rows = csvRows(await read(request, asked.span.scope), guild);
    return sendCsv(reply, `sales-tax-${asked.span.from}-to-${asked.span.to}.csv`, rows);
  });
}

const read = (request: Request, scope: TaxScope): Promise<TaxWorksheet> =>
  onOneSnapshot(request.server.parts.db, (tx) => taxWorksheet(tx, scope));

async function spanPage(request: Request, guild: GuildWords, span: Span, problem?: Problem) {
  const { from, to } = span;
  return {
    ...taxPage(await read(request, span.scope), guild, {}),
    title: `Sales tax, ${spanText(from, to, guild.locale)}`,
    places: places("/books/tax"),
    isSpan: true,
    values: problem ? request.query : { from, to },
    csvHref: `/books/tax.csv?${new URLSearchParams({ from, to })}`,
    problem,
  };
}

function taxPage(
  { rows, withoutTax, ties, agrees }: TaxWorksheet,
  { money }: GuildWords,
  scope: { sale?: string },
) {
  const of = (side: "taken" | "booked") => money(ties.reduce((sum, tie) => sum + tie[side], 0));
  return {
    agreement: agreement(agrees, `${of("taken")} of tax was taken`, of("booked")),
    withoutTax: withoutTax === 0 ? "" : money(withoutTax),
    taxes: rows.map((row) => ({
      name: `${row.name}, ${rateText(row.rate)} %`,
      accountHref: `/books/journal?${new URLSearchParams({ account: `tax/${row.code}`, ...scope })}`,
      rows: [
        { label: "Sold, before tax", value: money(row.gross) },
        { label: "To buyers with a certificate", value: money(0 - row.exemptBuyers) },
        { label: "Free of tax by rule", value: money(0 - row.exemptByRule) },
        { label: "Taxable", value: money(row.taxable), strong: true },
        { label: "Tax taken at the tills", value: money(row.taken), strong: true },
        { label: "The rate on the taxable total gives", value: money(row.byRate) },
        { label: "Difference from rounding each receipt", value: money(row.difference) },
      ],
    })),
  };
}

const csvHead = [
  ...["tax", "code", "rate in percent", "sold before tax", "to exempt buyers", "free by rule"],
  ...["taxable", "tax taken", "tax by rate on the total", "difference"],
];

const csvRows = ({ rows }: TaxWorksheet, { currency }: GuildWords) => [
  csvHead,
  ...rows.map((row) => [
    ...[row.name, row.code, { figure: rateText(row.rate) }, figure(row.gross, currency)],
    ...[figure(row.exemptBuyers, currency), figure(row.exemptByRule, currency)],
    ...[figure(row.taxable, currency), figure(row.taken, currency)],
    ...[figure(row.byRate, currency), figure(row.difference, currency)],
  ]),
];
