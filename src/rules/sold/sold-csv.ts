import type { CsvCell } from "../csv.ts";
import { amountText } from "../currency.ts";
import { dayIn } from "../day.ts";
import { fibreName } from "../fibre.ts";
import { payOf } from "./figures.ts";
import { isElsewhere, type SoldRow } from "./sold-row.ts";

interface Region {
  currency: string;
  timeZone: string;
}

const head = [
  ...["sale or outlet", "elsewhere", "first day", "sold on", "tag", "description", "kind"],
  ...["main fibre", "colour", "price of one", "entered", "sold", "gift to the guild", "sold for"],
  ...["guild or outlet kept", "yours", "not settled yet", "hours to sale", "minutes for one"],
  ...["materials for one", "an hour brought"],
];

/** Everything that became of a member's pieces as a table, the rows of the pages in their order. */
export const soldCsv = (rows: readonly SoldRow[], region: Region): CsvCell[][] => [
  head,
  ...rows.map((row) => line(row, region)),
];

function line(row: SoldRow, { currency, timeZone }: Region): CsvCell[] {
  const figure = (amount: number | null): CsvCell =>
    amount === null ? null : { figure: amountText(amount, currency) };
  const away = isElsewhere(row);
  const { soldAt, tag, description, kindName, fibre, colour, given, settled } = row;
  return [
    ...[row.whereName, away ? "yes" : "no", row.day],
    soldAt === null ? null : away ? soldAt : dayIn(new Date(soldAt), timeZone),
    ...[tag, description, kindName, fibre === "" ? "" : fibreName(fibre), colour],
    ...[figure(row.price), row.entered, row.sold, given ? "yes" : "no"],
    ...[figure(row.amount), figure(row.kept), settled ? figure(row.left) : null],
    ...[figure(row.open), row.wait === null ? null : Math.trunc(row.wait / 60)],
    ...[row.minutes, figure(row.materials), figure(payOf([row]).perHour)],
  ];
}
