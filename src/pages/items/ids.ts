import { z } from "zod";
import { notFound } from "../../plugins/errors.ts";

export const isId = (text: string): boolean => z.uuid().safeParse(text).success;

/** An id from an address: what is no id at all answers like an unknown one. */
export function idOf(text: string, what: string): string {
  if (!isId(text)) throw notFound(what);
  return text;
}
