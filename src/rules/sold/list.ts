import { filtered, type SoldFilter } from "./groups.ts";
import type { SoldRow } from "./sold-row.ts";

export interface RowSearch {
  q?: string | undefined;
  /** The key of the last row seen. */
  after?: string | undefined;
  limit: number;
}

/** Rows that hold every word, in their description, kind, place or tag. */
export function found(rows: readonly SoldRow[], filter: SoldFilter, q = ""): SoldRow[] {
  const words = q.toLowerCase().split(/\s+/).filter(Boolean);
  return filtered(rows, filter).filter((row) => {
    const text = `${row.description} ${row.kindName} ${row.whereName}`.toLowerCase();
    return words.every((word) => text.includes(word) || hasTag(row.tag, word));
  });
}

/** A tag is typed with or without its hyphens. */
function hasTag(tag: string, word: string): boolean {
  const digits = word.replaceAll("-", "");
  return /^\d+$/.test(digits) && tag.includes(digits);
}

/** One page of rows. A cursor that names no row any more starts again from the top. */
export function pageOfRows(
  rows: readonly SoldRow[],
  { after, limit }: RowSearch,
): { items: SoldRow[]; next: string | null } {
  const start = after === undefined ? 0 : rows.findIndex(({ key }) => key === after) + 1;
  const items = rows.slice(start, start + limit);
  return { items, next: start + limit < rows.length ? (items.at(-1)?.key ?? null) : null };
}
