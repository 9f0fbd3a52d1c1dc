import * as z from "zod";
import { archiveFormat, largestFile, mostFiles } from "../rules/archive.ts";

const text = z.string().max(200);
const day = z.string().regex(/^\d{4}-\d{2}-\d{2}$/);

/** Only names of our own sort: nothing that could lead out of the archive. */
const path = z
  .string()
  .max(120)
  .regex(/^[a-z0-9][a-z0-9._-]*(\/[a-z0-9][a-z0-9._-]*)?$/);

const archivedFile = z.strictObject({
  path,
  bytes: z.number().int().min(0).max(largestFile),
  sha256: z.string().regex(/^[0-9a-f]{64}$/),
  rows: z.number().int().min(0).nullable(),
});

/** What manifest.json of an archive says. */
export const manifestShape = z.strictObject({
  format: z.literal(archiveFormat),
  version: z.number().int().min(1),
  tables: text,
  madeAt: z.iso.datetime(),
  guild: z.strictObject({ name: text, currency: text, timeZone: text }),
  sale: z.strictObject({ id: z.uuid(), name: text, firstDay: day, lastDay: day }),
  accounts: z.record(z.string(), z.string().regex(/^-?\d{1,19}$/)),
  files: z.array(archivedFile).max(mostFiles),
});

/** What has to be known of an archive's members before anything is written. */
export const memberRows = z.array(
  z.object({
    ...{ id: z.uuid(), number: z.number().int(), name: z.string(), status: z.string() },
    ...{ email: z.string().nullable(), roles: z.array(z.string()) },
  }),
);

/** A table of a sale that is given out as CSV. */
export const exportShape = z.object({ name: z.string(), title: z.string(), words: z.string() });
