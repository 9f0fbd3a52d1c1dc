import { createHash } from "node:crypto";
import { Zip, ZipDeflate, ZipPassThrough } from "fflate";
import type { ArchivedFile } from "../../rules/archive.ts";

/**
 * A zip that is written from front to back and given away in pieces. Nothing in it tells the time:
 * the same content gives the same bytes.
 */
export class ZipFile {
  #ready: Uint8Array[] = [];
  #fault: Error | undefined;
  #zip = new Zip((fault, piece) => {
    if (fault) this.#fault = fault;
    else this.#ready.push(piece);
  });

  /** Adds a file; gives the pieces of the zip, and at the end what the file was. */
  async *add(
    path: string,
    content: AsyncIterable<string | Uint8Array> | Iterable<string | Uint8Array>,
  ): AsyncGenerator<Uint8Array, Omit<ArchivedFile, "rows">> {
    // A PDF is packed already.
    const file = path.endsWith(".pdf") ? new ZipPassThrough(path) : new ZipDeflate(path);
    // The local time of everywhere: the first moment that a zip can name.
    file.mtime = new Date(1980, 0, 1);
    this.#zip.add(file);
    const hash = createHash("sha256");
    let bytes = 0;
    for await (const part of content) {
      const piece = typeof part === "string" ? new TextEncoder().encode(part) : part;
      hash.update(piece);
      bytes += piece.length;
      file.push(piece);
      yield* this.#taken();
    }
    file.push(new Uint8Array(0), true);
    yield* this.#taken();
    return { path, bytes, sha256: hash.digest("hex") };
  }

  *end(): Generator<Uint8Array> {
    this.#zip.end();
    yield* this.#taken();
  }

  *#taken(): Generator<Uint8Array> {
    if (this.#fault) throw this.#fault;
    yield* this.#ready.splice(0);
  }
}
