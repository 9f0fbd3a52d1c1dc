import { mkdtemp, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import pg from "pg";
import { hashPassphrase } from "../../actions/passphrase.ts";
import { startCluster } from "../../database/embedded/cluster.ts";
import { migrate } from "../../database/migrate.ts";
import { type Child, startChild } from "./child.ts";
import { hallSql } from "./hall-sql.ts";

export const tillCount = 8;

export interface BenchItem {
  id: string;
  tag: string;
  member: string;
}

/** A hall full of goods on a PostgreSQL of its own, with the real server running on it. */
export interface Hall {
  address: string;
  databaseUrl: string;
  token: string;
  saleId: string;
  cashierId: string;
  tills: { id: string; session: string }[];
  items: BenchItem[];
  price: number;
  close(): Promise<void>;
}

const passphrase = "a bench needs a pass phrase";

/** Builds the hall with so many items, 99 pieces each, and starts the server. */
export async function openHall(itemCount: number): Promise<Hall> {
  const folder = await mkdtemp(join(tmpdir(), "thrumbook-bench-"));
  const cluster = await startCluster(folder);
  const databaseUrl = cluster.url("bench");
  await query(cluster.url("postgres"), ["CREATE DATABASE bench"]);
  await migrate(databaseUrl);
  await query(databaseUrl, hallSql(itemCount, await hashPassphrase(passphrase), tillCount));
  const server = await startChild("../../server.ts", {
    DATABASE_URL: databaseUrl,
    PORT: "0",
    DATA_DIR: folder,
    LOG_LEVEL: "silent",
  });
  return {
    address: server.address,
    databaseUrl,
    token: await signIn(server),
    ...(await readHall(databaseUrl)),
    close: async () => {
      await server.stop();
      await cluster.stop();
      await rm(folder, { recursive: true, force: true });
    },
  };
}

export async function query(url: string, statements: string[]): Promise<void> {
  const client = new pg.Client({ connectionString: url });
  await client.connect();
  try {
    for (const statement of statements) await client.query(statement);
  } finally {
    await client.end();
  }
}

async function signIn({ address }: Child): Promise<string> {
  const response = await fetch(`${address}/api/session`, {
    method: "POST",
    headers: { "content-type": "application/json" },
    body: JSON.stringify({ identifier: "100", passphrase }),
  });
  const { accessToken } = (await response.json()) as { accessToken?: string };
  if (!accessToken) throw new Error(`The bench could not sign in: ${response.status}`);
  return accessToken;
}

async function readHall(url: string) {
  const client = new pg.Client({ connectionString: url });
  await client.connect();
  try {
    const sale = await client.query<{ id: string }>("SELECT id FROM sale");
    const cashier = await client.query<{ id: string }>("SELECT id FROM member WHERE number = 100");
    const tills = await client.query<{ id: string; session: string }>(
      "SELECT t.id, o.id AS session FROM till t JOIN till_session o ON o.till_id = t.id ORDER BY t.number",
    );
    const items = await client.query<BenchItem>(
      "SELECT id, tag, member_id AS member FROM item ORDER BY md5(tag)",
    );
    return {
      saleId: sale.rows[0]!.id,
      cashierId: cashier.rows[0]!.id,
      tills: tills.rows,
      items: items.rows,
      price: 4_500,
    };
  } finally {
    await client.end();
  }
}
