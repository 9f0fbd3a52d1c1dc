import type { TakingsReport } from "../../database/figures/takings-report.ts";
import type { SaleRead } from "../../database/sales.ts";
import { tenderWords } from "../../rules/tender.ts";
import { type GuildWords, salePlaces } from "../books/scene.ts";
import { hourText } from "../format.ts";
import { agreement } from "./agreement.ts";

interface Line {
  label: string;
  amount: number;
  href: string;
  more?: object;
}

/** The four ways of looking at the takings, each as a chart beside its table. */
export function takingsPage(sale: SaleRead, guild: GuildWords, report: TakingsReport) {
  const path = `/books/${sale.id}`;
  const rows = (part: string, asked: Record<string, string>) =>
    `${path}/${part}?${new URLSearchParams(asked)}`;
  const { money } = guild;
  const charts = {
    till: report.byTill.map(({ key, name, amount }) => ({
      ...{ label: tillWords(key, name), amount, href: rows("receipts", { till: key }) },
    })),
    tender: report.byTender.map(({ key, amount }) => ({
      ...{ label: tenderName(key), amount, href: rows("receipts", { tender: key }) },
    })),
    hour: report.byHour.map(({ hour, receipts, amount }) => ({
      ...{ label: hourText(hour, guild), amount, href: rows("receipts", { hour }) },
      more: { receipts },
    })),
    kind: report.byKind.map(({ key, name, pieces, amount, tax }) => ({
      ...{ label: name, amount: amount + tax, href: rows("lines", { kind: key }) },
      more: { pieces, before: money(amount), tax: money(tax) },
    })),
  };
  return {
    title: `Takings of ${sale.name}`,
    places: salePlaces(sale.id, "/takings"),
    backHref: path,
    isEmpty: report.byHour.length === 0,
    agreement: agreement(report.agrees, `${money(report.taken)} was taken`, money(report.booked)),
    taken: money(report.taken),
    rounding: report.rounding === 0 ? "" : money(report.rounding),
    till: section("till", "Takings by till", charts.till, guild),
    tender: section("tender", "Takings by how they were paid", charts.tender, guild),
    hour: section("hour", "Takings by hour", charts.hour, guild),
    kind: section("kind", "Takings by kind of goods, with tax", charts.kind, guild),
  };
}

function section(id: string, title: string, lines: readonly Line[], { money }: GuildWords) {
  const bars = lines.map(({ label, amount, href }) => ({
    ...{ label, value: amount, shown: money(amount), href },
  }));
  const description = "The same figures stand in the table below. Each bar leads to its rows.";
  return {
    title,
    chart: { id: `by-${id}`, title, description, bars },
    rows: lines.map(({ label, amount, href, more }) => ({
      ...{ label, amount: money(amount), href, ...more },
    })),
  };
}

export const tenderName = (kind: string): string =>
  kind === "exchange" ? "Exchange" : (tenderWords[kind as keyof typeof tenderWords] ?? kind);

const tillWords = (number: string, name: string): string =>
  name === `Till ${number}` ? name : `Till ${number}, ${name}`;
