import { mostRows } from "../../contract/policy.ts";
import type { Typed } from "../sales/terms-rows.ts";

/** A list of the form: its fields, and those that say that a row is filled. */
const lists = {
  "rates.classes": { fields: ["code", "name", "rate"], says: ["name", "rate"] },
  "rates.kinds": { fields: ["kind", "rate", "visitorsToo"], says: ["kind", "rate"] },
  "rates.hours": { fields: ["fromMinutes", "rate"], says: ["fromMinutes", "rate"] },
  "payout.tenders": { fields: ["method", "upTo"], says: ["method", "upTo"] },
} as const;

export type List = keyof typeof lists;

const most: Record<List, number> = {
  "rates.classes": mostRows.classes,
  "rates.kinds": mostRows.kinds,
  "rates.hours": mostRows.hours,
  "payout.tenders": mostRows.tenders,
};

export const rowAt = (list: List, index: number): string => `${list}.${index}`;

const rowsOf = (list: List, count: number): string[] =>
  Array.from({ length: count }, (_, index) => rowAt(list, index));

export const filledRows = (typed: Typed, list: List): string[] =>
  rowsOf(list, most[list]).filter((at) =>
    lists[list].says.some((field) => typed[`${at}.${field}`]),
  );

/** The rows to show: the filled ones, which stand first, and some empty ones behind. */
export const shownRows = (typed: Typed, list: List, spare: number): string[] =>
  rowsOf(list, Math.min(filledRows(typed, list).length + spare, most[list]));

/**
 * Moves the filled rows up to where the empty ones were, so that a fault that is named by its
 * place in the list stands beside the field that was typed.
 */
export function packed(typed: Typed): Typed {
  const names = Object.keys(lists) as List[];
  const inRow = (field: string) => names.some((list) => field.startsWith(`${list}.`));
  const rest = Object.entries(typed).filter(([field]) => !inRow(field));
  const rows = names.flatMap((list) =>
    filledRows(typed, list).flatMap((from, index) =>
      lists[list].fields.map((field): [string, string] => [
        `${rowAt(list, index)}.${field}`,
        typed[`${from}.${field}`] ?? "",
      ]),
    ),
  );
  return Object.fromEntries([...rest, ...rows]);
}
