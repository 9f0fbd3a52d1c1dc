import type { Transaction } from "../../database/client.ts";
import type { SaleRead } from "../../database/sales.ts";
import { ok, type Result } from "../../rules/problem.ts";
import { checkItems, limitFaults } from "../entry-rules.ts";
import { firstOfEach, type ReadRow, readItemList } from "./read-item-list.ts";

export interface LookedRow extends ReadRow {
  /** It equals an entry of the sale that stands already. */
  twin: boolean;
}

export interface ListLook {
  headings: string[];
  rows: LookedRow[];
  ignored: string[];
  good: number;
  faulty: number;
  twins: number;
}

export interface ListPlace {
  sale: SaleRead;
  memberId: string;
  text: string;
  /** Whether rows that equal entries are to be entered as well. */
  twins: "leave" | "enter";
}

/** Reads a list for a sale and marks each row that cannot be entered, without entering anything. */
export async function lookAtList(tx: Transaction, place: ListPlace): Promise<Result<ListLook>> {
  const { sale, memberId, text } = place;
  const guild = await tx.guild.findFirstOrThrow();
  const kinds = await tx.kind.findMany({
    where: { active: true },
    orderBy: { position: "asc" },
    select: { id: true, code: true, name: true },
  });
  const read = readItemList(text, { currency: guild.currency, kinds });
  if (!read.ok) return read;
  const { headings, ignored } = read.value;
  const checked = await withRules(tx, sale, memberId, read.value.rows);
  const marked = markTwins(checked, await standing(tx, sale.id, memberId));
  const kindIds = new Map(kinds.map(({ id, code }) => [code, id]));
  const rows = await withLimits(tx, place, marked, kindIds);
  const faulty = rows.filter(({ faults }) => faults.length > 0).length;
  const twins = rows.filter(({ twin }) => twin).length;
  return ok({ headings, ignored, rows, faulty, twins, good: rows.length - faulty - twins });
}

/** What the sale's rules and the law of the labels say of each row. */
async function withRules(
  tx: Transaction,
  sale: SaleRead,
  memberId: string,
  rows: readonly ReadRow[],
): Promise<ReadRow[]> {
  const items = rows.map(({ item }) => item);
  const checked = await checkItems(tx, sale, memberId, items, (index) => `${index}/`);
  const errors = checked.ok ? [] : checked.problem.errors;
  return rows.map((row, index) => {
    const own = errors
      .filter(({ field }) => field.startsWith(`${index}/`))
      .map(({ field, message }) => ({ field: field.slice(`${index}/`.length), message }));
    return { ...row, faults: firstOfEach([...row.faults, ...own]) };
  });
}

const likeness = (item: { description: string; colours: string; size: string; price: unknown }) =>
  JSON.stringify([item.description, item.colours, item.size, String(item.price)]).toLowerCase();

/** How many entries of each likeness the member has in the sale. */
async function standing(tx: Transaction, saleId: string, memberId: string) {
  const items = await tx.item.findMany({
    where: { saleId, memberId, withdrawnAt: null },
    select: { description: true, colours: true, size: true, price: true },
  });
  const counts = new Map<string, number>();
  for (const item of items) counts.set(likeness(item), (counts.get(likeness(item)) ?? 0) + 1);
  return counts;
}

/** Three equal rows beside one equal entry are one twin and two new pieces. */
function markTwins(rows: readonly ReadRow[], counts: Map<string, number>): LookedRow[] {
  return rows.map((row) => {
    const left = row.faults.length > 0 ? 0 : (counts.get(likeness(row.item)) ?? 0);
    if (left > 0) counts.set(likeness(row.item), left - 1);
    return { ...row, twin: left > 0 };
  });
}

/** A row that goes over a limit of the sale is faulty; those before it are not. */
async function withLimits(
  tx: Transaction,
  { sale, memberId, twins }: ListPlace,
  rows: readonly LookedRow[],
  kindIds: Map<string, string>,
): Promise<LookedRow[]> {
  const wanted = rows.filter(
    ({ faults, twin }) => faults.length === 0 && (!twin || twins === "enter"),
  );
  const added = wanted.map(({ item }) => ({ kindId: kindIds.get(item.kind) ?? "" }));
  const faults = await limitFaults(tx, sale, memberId, added);
  return rows.map((row) => {
    const over = faults[wanted.indexOf(row)] ?? [];
    return over.length === 0 ? row : { ...row, twin: false, faults: firstOfEach(over) };
  });
}
