import * as z from "zod";
import { outboxEntry } from "./till-fact.ts";

/** The name of our own format, so that another file is not taken for one. */
export const unsentFormat = "thrumbook-unsent";
export const unsentVersion = 1;

/**
 * What a till saves when its way to the server stays shut: everything it has not sent, in order.
 * `entries` is the JSON text of a list that `unsentEntries` reads, and `sha256` its hex hash. It is
 * a text and not a list, because a list that is read and written again need not be the same text;
 * the hash finds a file that was cut off or changed on its way.
 */
export const unsentFileShape = z.strictObject({
  format: z.literal(unsentFormat, "This is not a file that a till saved"),
  version: z.literal(unsentVersion, "This file is of another version of the service"),
  till: z.strictObject({ id: z.uuid(), number: z.int().min(1), name: z.string() }),
  savedAt: z.iso.datetime(),
  entries: z.string().max(40_000_000),
  sha256: z.string().regex(/^[0-9a-f]{64}$/),
});

export const unsentEntries = z.array(outboxEntry).max(20_000);

export type UnsentFile = z.infer<typeof unsentFileShape>;

/** A file of that many signs, with room for its heading. */
export const largestUnsentFile = 45_000_000;

/** What became of the entries of a file. */
export const imported = z.object({
  tillNumber: z.int(),
  /** Entries that the file brought. */
  recorded: z.int(),
  /** Entries that were here already. */
  before: z.int(),
  /** What the treasurer should look at. */
  notes: z.int(),
  /** Entries that could not be taken yet, from the first that could not on. */
  waiting: z.int(),
  why: z.string().optional(),
});

export type Imported = z.infer<typeof imported>;
