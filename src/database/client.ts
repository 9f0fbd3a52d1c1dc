import { PrismaPg } from "@prisma/adapter-pg";
import { PrismaClient } from "./generated/client.ts";

export type Database = PrismaClient;

/** What an action gets inside its transaction: the same tables, without the power to open another. */
export type Transaction = Omit<
  PrismaClient,
  "$connect" | "$disconnect" | "$on" | "$use" | "$extends" | "$transaction"
>;

/**
 * The time limits stand in the database, shorter than Prisma's own: when Prisma's limit fires
 * first it can leave half a transaction behind.
 */
const limits =
  "-c statement_timeout=5000 -c lock_timeout=3000 -c idle_in_transaction_session_timeout=10000";

/** Prisma's own limits for a transaction; those of the database end it long before. */
export const patience = { timeout: 60_000, maxWait: 5_000 };

export function openDatabase(url: string, pool = 10): Database {
  const connection = {
    connectionString: url,
    max: pool,
    connectionTimeoutMillis: 5_000,
    keepAlive: true,
    options: limits,
  };
  const adapter = new PrismaPg(connection, { statementNameGenerator: keptName });
  return new PrismaClient({ adapter });
}

/**
 * A statement that begins with "keep: name" in a comment is planned once for each connection.
 * Only the few that every scan and receipt runs are kept: the server never forgets one.
 */
const keptName = ({ sql }: { sql: string }): string =>
  /^\s*\/\* keep: ([\w-]+) \*\//.exec(sql)?.[1] ?? "";
