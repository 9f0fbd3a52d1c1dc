import { localTimeOf } from "../../rules/zoned-time.ts";
import type { Transaction } from "../client.ts";
import { tendersOf } from "../takings.ts";
import { kindKey, kindName } from "./kind-of-line.ts";

/** One line of a breakdown: what rows of the tills say, and what the ledger says of the same. */
export interface Taken {
  /** What the rows behind it are asked for with. */
  key: string;
  name: string;
  amount: number;
  booked: number;
}

export interface TakenInHour {
  /** The hour on the guild's clocks, "2026-11-28T10". */
  hour: string;
  receipts: number;
  amount: number;
}

export interface TakenByKind {
  key: string;
  name: string;
  pieces: number;
  /** What the owners are credited with, and the tax that the buyers paid beside it. */
  amount: number;
  tax: number;
}

/** What a sale took, four times over; each way of looking comes to `taken`. */
export interface TakingsReport {
  taken: number;
  byTill: Taken[];
  byTender: Taken[];
  byHour: TakenInHour[];
  byKind: TakenByKind[];
  /** What cash rounding added; goods and tax come to `taken` with it. */
  rounding: number;
  /** What the receipts put on the accounts that hold money. */
  booked: number;
  agrees: boolean;
}

const tenderOrder = ["cash", "cheque", "card", "other", "exchange"];

export async function takingsReport(
  db: Transaction,
  saleId: string,
  zone: string,
): Promise<TakingsReport> {
  const tenders = await tendersOf(db, saleId);
  const booked = await bookedOf(db, saleId);
  const byTill = fold(
    tenders.map((row) => ({ ...row, key: String(row.tillNumber), name: row.tillName })),
    booked.map((row) => ({ ...row, key: String(row.tillNumber) })),
  );
  const byTender = fold(
    tenders.map((row) => ({ ...row, key: row.kind, name: row.kind })),
    booked.map((row) => ({ ...row, key: row.kind })),
  ).sort((one, other) => tenderOrder.indexOf(one.key) - tenderOrder.indexOf(other.key));
  const byHour = await hoursOf(db, saleId, zone);
  const byKind = await kindsOf(db, saleId);
  const rounding = await roundingOf(db, saleId);
  const taken = sum(byTill);
  const inBooks = sum(booked);
  const ways = [
    ...[sum(byTender), sum(byHour)],
    sum(byKind) + byKind.reduce((all, { tax }) => all + tax, rounding),
  ];
  const agrees =
    [...byTill, ...byTender].every((row) => row.amount === row.booked) &&
    [inBooks, ...ways].every((way) => way === taken);
  return { taken, byTill, byTender, byHour, byKind, rounding, booked: inBooks, agrees };
}

const sum = (rows: readonly { amount: number }[]): number =>
  rows.reduce((all, { amount }) => all + amount, 0);

/** One line for each key that either side has. */
function fold(
  rows: readonly { key: string; name: string; amount: number }[],
  booked: readonly { key: string; amount: number }[],
): Taken[] {
  const lines = new Map<string, Taken>();
  const lineOf = (key: string, name: string) => {
    const line = lines.get(key) ?? { key, name, amount: 0, booked: 0 };
    lines.set(key, line);
    return line;
  };
  for (const { key, name, amount } of rows) lineOf(key, name).amount += amount;
  for (const { key, amount } of booked) lineOf(key, key).booked += amount;
  return [...lines.values()];
}

interface Booked {
  tillNumber: number;
  kind: string;
  amount: number;
}

/** What receipts put on the accounts that hold money, named as tenders are. */
async function bookedOf(db: Transaction, saleId: string): Promise<Booked[]> {
  const rows = await db.$queryRaw<(Omit<Booked, "amount"> & { amount: bigint })[]>`
    SELECT t.number AS "tillNumber", o.kind, sum(o.amount)::bigint AS amount
    FROM (SELECT e.subject_id, p.amount, CASE p.account_key WHEN 'cheques' THEN 'cheque' WHEN 'card-clearing' THEN 'card'
        WHEN 'other-tender' THEN 'other' WHEN 'exchange' THEN 'exchange' ELSE 'cash' END AS kind
      FROM journal_entry e JOIN posting p ON p.entry_id = e.id
      WHERE e.sale_id = ${saleId}::uuid AND e.kind = 'receipt' AND (p.account_key LIKE 'drawer/%'
        OR p.account_key IN ('cheques', 'card-clearing', 'other-tender', 'exchange'))) o
    JOIN receipt r ON r.id = o.subject_id JOIN till t ON t.id = r.till_id
    GROUP BY t.number, o.kind ORDER BY t.number`;
  return rows.map((row) => ({ ...row, amount: Number(row.amount) }));
}

/**
 * By quarters of an hour first: the clocks of every zone are whole quarters apart, so the hours of
 * the guild's own clock come from them exactly, whatever time zones the database knows.
 */
async function hoursOf(db: Transaction, saleId: string, zone: string): Promise<TakenInHour[]> {
  const rows = await db.$queryRaw<{ quarter: Date; receipts: bigint; amount: bigint }[]>`
    SELECT date_bin('15 minutes', made_at, '2000-01-01Z') AS quarter, count(*) AS receipts,
      sum(total + rounding)::bigint AS amount
    FROM receipt WHERE sale_id = ${saleId}::uuid GROUP BY 1 ORDER BY 1`;
  const hours = new Map<string, TakenInHour>();
  for (const { quarter, receipts, amount } of rows) {
    const hour = localTimeOf(quarter.toISOString(), zone).slice(0, 13);
    const line = hours.get(hour) ?? { hour, receipts: 0, amount: 0 };
    line.receipts += Number(receipts);
    line.amount += Number(amount);
    hours.set(hour, line);
  }
  return [...hours.values()];
}

async function kindsOf(db: Transaction, saleId: string): Promise<TakenByKind[]> {
  type Row = { key: string; name: string; pieces: bigint; amount: bigint; tax: bigint };
  const rows = await db.$queryRaw<Row[]>`
    SELECT ${kindKey} AS key, ${kindName} AS name, sum(l.quantity) AS pieces, sum(l.amount)::bigint AS amount,
      sum(l.tax)::bigint AS tax
    FROM receipt r JOIN receipt_line l ON l.receipt_id = r.id LEFT JOIN identified n ON n.line_id = l.id
    LEFT JOIN item i ON i.id = coalesce(n.item_id, l.item_id) LEFT JOIN kind k ON k.id = i.kind_id
    WHERE r.sale_id = ${saleId}::uuid GROUP BY 1, 2 ORDER BY sum(l.amount) DESC, 1`;
  return rows.map(({ key, name, pieces, amount, tax }) => ({
    ...{ key, name, pieces: Number(pieces), amount: Number(amount), tax: Number(tax) },
  }));
}

async function roundingOf(db: Transaction, saleId: string): Promise<number> {
  const found = await db.receipt.aggregate({ where: { saleId }, _sum: { rounding: true } });
  return Number(found._sum.rounding ?? 0n);
}
