import { PassThrough, Readable } from "node:stream";
import { pipeline } from "node:stream/promises";
import type { Database, Transaction } from "./client.ts";
import type { Prisma } from "./generated/client.ts";

/** Rows of one fetch: enough that the trips to the database do not count, small in memory. */
const rowsAtOnce = 1_000;

/** A file is taken home over a slow line as well; ten minutes are long enough for the biggest. */
const longest = 600_000;

/**
 * A stream of what `write` gives, all of it read from one moment of the database: a till that goes
 * on selling meanwhile changes nothing in it. Whoever stops listening ends the reading too. Only
 * reads belong here, so Prisma's half-ended transactions cannot leave anything behind.
 */
export function streamSnapshot(
  db: Database,
  write: (tx: Transaction) => AsyncIterable<string | Uint8Array>,
): Readable {
  const out = new PassThrough();
  db.$transaction(
    async (tx) => {
      await tx.$executeRaw`SET TRANSACTION READ ONLY`;
      await tx.$executeRaw`SET LOCAL statement_timeout = '120s'`;
      // The reader's line decides how long the database waits between two fetches.
      await tx.$executeRaw`SET LOCAL idle_in_transaction_session_timeout = '600s'`;
      await pipeline(Readable.from(write(tx)), out);
    },
    { isolationLevel: "RepeatableRead", timeout: longest, maxWait: 5_000 },
  ).catch((error) => out.destroy(error instanceof Error ? error : new Error(String(error))));
  return out;
}

/** The rows of a query, some at a time, in its order. Only one of these reads at once. */
export async function* fetchRows<Row>(
  tx: Transaction,
  query: Prisma.Sql,
): AsyncGenerator<Row[], void> {
  await tx.$executeRaw`DECLARE fetched NO SCROLL CURSOR FOR ${query}`;
  yield* fetchDeclared<Row>(tx);
}

/** The rest of the rows of the cursor "fetched", which is closed at its end. */
export async function* fetchDeclared<Row>(tx: Transaction): AsyncGenerator<Row[], void> {
  for (;;) {
    const rows = await tx.$queryRaw<Row[]>`FETCH 1000 FROM fetched`;
    if (rows.length > 0) yield rows;
    if (rows.length < rowsAtOnce) break;
  }
  await tx.$executeRaw`CLOSE fetched`;
}
