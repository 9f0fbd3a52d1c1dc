import { z } from "zod";
import { outboxEntry } from "./till-fact.ts";

/** The name of our own format, so that another file is not taken for one. */
export const unsentFormat = "thrumbook-unsent";
export const unsentVersion = 1;

/**
 * What a till saves when its way to the server stays shut: everything it has not sent, in order.
 * `sha256` is the hex hash of `JSON.stringify(entries)`; it finds a file that was cut off or
 * changed on its way.
 */
export const unsentFileShape = z.strictObject({
  format: z.literal(unsentFormat),
  version: z.literal(unsentVersion),
  till: z.strictObject({ id: z.uuid(), number: z.int().min(1), name: z.string() }),
  savedAt: z.iso.datetime(),
  entries: z.array(outboxEntry).max(20_000),
  sha256: z.string().regex(/^[0-9a-f]{64}$/),
});

export type UnsentFile = z.infer<typeof unsentFileShape>;
