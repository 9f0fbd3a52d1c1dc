import { type Checked, runChecks } from "../../src/database/check-books.ts";
import type { Database } from "../../src/database/client.ts";

/** What a cheat with the highest rights does, which invariant notices and what it names. */
export type Cheat = [invariant: number, sql: string, named: RegExp];

/** Cheats with every guard switched off, checks, and undoes the cheat. */
export async function brokenBy(
  db: Database,
  sql: string,
): Promise<{ rows: number; broken: Checked[] }> {
  class Undo extends Error {}
  let found = { rows: 0, broken: [] as Checked[] };
  await db
    .$transaction(async (tx) => {
      await tx.$executeRaw`SET LOCAL session_replication_role = replica`;
      const rows = await tx.$executeRawUnsafe(sql);
      const { checks } = await runChecks(tx);
      found = { rows, broken: checks.filter(({ broken }) => broken) };
      throw new Undo();
    })
    .catch((error: unknown) => {
      if (!(error instanceof Undo)) throw error;
    });
  return found;
}
