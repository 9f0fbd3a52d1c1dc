import { buffer } from "node:stream/consumers";
import { unzipSync, zipSync } from "fflate";
import { v7 } from "uuid";
import { restoreSale } from "../../src/actions/restore/restore-sale.ts";
import { offerSetUp } from "../../src/actions/set-up-guild.ts";
import { writeArchive } from "../../src/database/archive/write-archive.ts";
import type { Database } from "../../src/database/client.ts";
import { streamSnapshot } from "../../src/database/snapshot.ts";
import { printFrozen } from "../../src/printing/statement-words.ts";
import type { Manifest } from "../../src/rules/archive.ts";

const madeAt = new Date("2026-12-01T12:00:00Z");

/** The archive of a sale as a page would send it. */
export async function archiveOf(db: Database, saleId: string, at = madeAt): Promise<Uint8Array> {
  const draw = (statement: Parameters<typeof printFrozen>[0][number]) => printFrozen([statement]);
  const stream = streamSnapshot(db, (tx) => writeArchive(tx, { saleId, madeAt: at, draw }));
  return new Uint8Array(await buffer(stream));
}

export const filesIn = (zip: Uint8Array): Record<string, Uint8Array> => unzipSync(zip);

export const textIn = (zip: Uint8Array, path: string): string =>
  new TextDecoder().decode(filesIn(zip)[path]);

export const manifestIn = (zip: Uint8Array): Manifest => JSON.parse(textIn(zip, "manifest.json"));

/** The same archive with some files changed, added, or (undefined) taken out. */
export function withFiles(
  zip: Uint8Array,
  changes: Record<string, string | Uint8Array | undefined>,
): Uint8Array {
  const files = filesIn(zip);
  for (const [path, content] of Object.entries(changes)) {
    if (content === undefined) delete files[path];
    else files[path] = typeof content === "string" ? new TextEncoder().encode(content) : content;
  }
  return zipSync(files);
}

/** Brings an archive into a service; without a chair, so that links come back. */
export async function restore(db: Database, zip: Uint8Array, token?: string) {
  const given = token ?? (await offerSetUp(db)) ?? "no link";
  return restoreSale(db, { token: given, zip, chair: null, requestId: v7() });
}
