import { findSale, type SaleRead } from "../../database/sales.ts";
import { notFound } from "../../plugins/errors.ts";
import type { Request } from "../../plugins/types.ts";
import { formatMoney } from "../../rules/currency.ts";
import { wantId } from "../want-id.ts";

/** Who sees the books. */
export const books = { config: { access: ["treasurer", "chair"] as const } };

export type WithSale = { Params: { saleId: string }; Querystring: { after?: string } };
export type WithId = { Params: { id: string } };

export interface GuildWords {
  locale: string;
  timeZone: string;
  currency: string;
  money(amount: number): string;
}

/** The guild with its way of writing amounts. */
export async function guildWords(request: Request): Promise<GuildWords> {
  const { locale, timeZone, currency } = await request.server.parts.db.guild.findFirstOrThrow();
  return { locale, timeZone, currency, money: (amount) => formatMoney(amount, currency, locale) };
}

export async function saleNamed(request: Request, id: string): Promise<SaleRead> {
  const sale = await findSale(request.server.parts.db, wantId(id, "this sale"));
  if (!sale) throw notFound("this sale");
  return sale;
}

/** A number from an address that ends a page of a list, or 0 for its start. */
export const numberAfter = (text: unknown): number =>
  typeof text === "string" && /^\d{1,9}$/.test(text) ? Number(text) : 0;

/** The places of the books, for the line of links above them. */
export const places = (current: string) =>
  [
    { href: "/books", label: "Sales" },
    { href: "/books/runs", label: "Paying" },
    { href: "/books/accounts", label: "Accounts" },
    { href: "/books/journal", label: "Journal" },
    { href: "/books/tax", label: "Tax" },
    { href: "/books/payables", label: "Owed to members" },
    { href: "/books/year-end", label: "Year-end" },
    { href: "/books/check", label: "Check the books" },
  ].map((link) => ({ ...link, current: link.href === current }));

/** What there is about one sale, and the two figures over all sales that go with it. */
export const salePlaces = (saleId: string, current = "") => [
  ...[
    { part: "", label: "Overview" },
    { part: "/takings", label: "Takings" },
    { part: "/tax", label: "Tax" },
    { part: "/banking", label: "Bank and cards" },
    { part: "/income", label: "What the guild made" },
    { part: "/exports", label: "Files" },
  ].map(({ part, label }) => ({
    ...{ href: `/books/${saleId}${part}`, label, current: part === current },
  })),
  { href: "/books/payables", label: "Owed to members", current: false },
  { href: "/books/year-end", label: "Year-end", current: false },
];
