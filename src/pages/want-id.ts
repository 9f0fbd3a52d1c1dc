import { z } from "zod";
import { notFound } from "../plugins/errors.ts";

const uuid = z.uuid();

export const isId = (text: string): boolean => uuid.safeParse(text).success;

/** An id from an address. One that cannot be an id names nothing, so it never reaches the database. */
export function wantId(text: string, what: string): string {
  if (!isId(text)) throw notFound(what);
  return text;
}

/** A cursor from an address, or the start of the list when it is none. */
export const cursorOf = (text: unknown): string | undefined =>
  uuid.safeParse(text).success ? String(text) : undefined;

/** A search word from an address: short, trimmed, without control signs. */
export const searchOf = (text: unknown): string =>
  typeof text === "string"
    ? text
        .replace(/\p{Cc}/gu, " ")
        .trim()
        .slice(0, 100)
    : "";

/** The address of the next page of a list, with the search kept; undefined on the last page. */
export function nextHref(path: string, next: string | null, kept: Record<string, string>) {
  if (next === null) return undefined;
  const filled = Object.entries(kept).filter(([, value]) => value !== "");
  return `${path}?${new URLSearchParams([...filled, ["after", next]])}`;
}
