import { PassThrough, Readable } from "node:stream";
import { pipeline } from "node:stream/promises";
import type { Database, Transaction } from "./client.ts";
import type { Prisma } from "./generated/client.ts";

/** Rows of one fetch: enough that the trips to the database do not count, small in memory. */
const rowsAtOnce = 1_000;

/** A file is taken home over a slow line as well; ten minutes are long enough for the biggest. */
const longest = 600_000;

/** So many are read at once; the next wait. Slow lines must not take the tills' connections. */
const atOnce = 2;
const seats = new WeakMap<Database, { free: number; waiting: (() => void)[] }>();

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
  inTurn(db, () => readInto(out, db, write)).catch((error) =>
    out.destroy(error instanceof Error ? error : new Error(String(error))),
  );
  return out;
}

async function inTurn(db: Database, read: () => Promise<void>): Promise<void> {
  const room = seats.get(db) ?? { free: atOnce, waiting: [] };
  seats.set(db, room);
  if (room.free > 0) room.free -= 1;
  else await new Promise<void>((resolve) => room.waiting.push(resolve));
  try {
    await read();
  } finally {
    // Whoever waits takes the seat over without its getting free.
    const next = room.waiting.shift();
    if (next) next();
    else room.free += 1;
  }
}

const readInto = (
  out: PassThrough,
  db: Database,
  write: (tx: Transaction) => AsyncIterable<string | Uint8Array>,
): Promise<void> =>
  db.$transaction(
    async (tx) => {
      await tx.$executeRaw`SET TRANSACTION READ ONLY`;
      await tx.$executeRaw`SET LOCAL statement_timeout = '120s'`;
      // The reader's line decides how long the database waits between two fetches.
      await tx.$executeRaw`SET LOCAL idle_in_transaction_session_timeout = '600s'`;
      await pipeline(Readable.from(write(tx)), out);
    },
    { isolationLevel: "RepeatableRead", timeout: longest, maxWait: 5_000 },
  );

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
