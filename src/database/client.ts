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

export function openDatabase(url: string, pool = 10): Database {
  const adapter = new PrismaPg({
    connectionString: url,
    max: pool,
    connectionTimeoutMillis: 5_000,
    keepAlive: true,
    options: limits,
  });
  return new PrismaClient({ adapter });
}
