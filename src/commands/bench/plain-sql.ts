import { performance } from "node:perf_hooks";
import pg from "pg";
import { v7 } from "uuid";
import { figures, lineTaxes } from "./baskets.ts";
import type { BenchItem, Hall } from "./hall.ts";

export interface PlainSql {
  /** Receipts per second. */
  run(seconds: number, next: (till: number) => BenchItem[]): Promise<number>;
  close(): Promise<void>;
}

/**
 * The limit for a receipt: the very rows of one, written by the bare driver in one transaction
 * with one INSERT for each table, on one connection for each till. The database's own checks run
 * for both; reading, rules, HTTP and sessions only for ours.
 */
export async function openPlainSql(hall: Hall): Promise<PlainSql> {
  const clients = await Promise.all(
    hall.tills.map(async () => {
      const client = new pg.Client({ connectionString: hall.databaseUrl });
      await client.connect();
      return client;
    }),
  );
  return {
    run: async (seconds, next) => {
      const start = performance.now();
      const end = start + seconds * 1_000;
      const counts = await Promise.all(
        clients.map((client, till) => keepWriting(client, hall, till, end, next)),
      );
      const took = (performance.now() - start) / 1_000;
      return counts.reduce((sum, count) => sum + count, 0) / took;
    },
    close: async () => {
      await Promise.all(clients.map((client) => client.end()));
    },
  };
}

async function keepWriting(
  client: pg.Client,
  hall: Hall,
  till: number,
  end: number,
  next: (till: number) => BenchItem[],
): Promise<number> {
  const last = await client.query<{ number: number }>(
    "SELECT coalesce(max(number), 0) AS number FROM receipt WHERE till_id = $1",
    [hall.tills[till]!.id],
  );
  let count = 0;
  for (; performance.now() < end; count += 1)
    await writeOne(client, hall, till, last.rows[0]!.number + count + 1, next(till));
  return count;
}

async function writeOne(
  client: pg.Client,
  { saleId, cashierId, tills, price }: Hall,
  till: number,
  number: number,
  items: BenchItem[],
): Promise<void> {
  const { id: tillId, session } = tills[till]!;
  const [receipt, entry] = [v7(), v7()];
  const lines = items.map((item, index) => ({ ...item, line: v7(), index }));
  const { subtotal, tax, total } = figures;
  const run = (name: string, values: unknown[]) =>
    client.query({ name, text: statements[name as keyof typeof statements], values });
  await client.query("BEGIN");
  await run("receipt", [
    ...[receipt, saleId, tillId, session, number],
    ...[subtotal, tax, total, "0".repeat(64), cashierId],
  ]);
  await run("lines", [
    receipt,
    ...lines.flatMap(({ line, id, member, tag, index }) => [
      ...[line, index + 1, id, member, tag, price, lineTaxes[index]],
    ]),
  ]);
  await run("movements", [cashierId, ...lines.flatMap(({ id, line }) => [id, line])]);
  await run("tender", [receipt, total]);
  await run("tax", [receipt, subtotal, tax]);
  await run("entry", [entry, saleId, receipt, cashierId]);
  await run("postings", [
    entry,
    ...[`drawer/${tillId}`, total, "tax/tax", 0 - tax],
    ...lines.flatMap(({ member }) => [`member/${member}`, 0 - price]),
  ]);
  await run("audit", [receipt, JSON.stringify({ number, total }), cashierId]);
  await client.query("COMMIT");
}

const lineValues = [0, 1, 2]
  .map((index) => {
    const at = (offset: number) => `$${2 + index * 7 + offset}`;
    return `(${at(0)}::uuid, $1::uuid, ${at(1)}::int, 'item', ${at(2)}::uuid, ${at(3)}::uuid, ${at(4)}::text,
      'Scarf', 1, ${at(5)}::bigint, 0, ${at(5)}::bigint, ${at(6)}::bigint, 0, 'scarf', false, false, '')`;
  })
  .join(", ");

const statements = {
  receipt: `INSERT INTO receipt (id, sale_id, till_id, till_session_id, number, kind, subtotal, tax, total, cash_given, fingerprint, cashier_id)
    VALUES ($1, $2, $3, $4, $5, 'sale', $6, $7, $8, $8, $9, $10)`,
  lines: `INSERT INTO receipt_line (id, receipt_id, position, kind, item_id, member_id, tag, description, quantity, unit_price,
      discount, amount, tax, tax_inside, tax_kind, donated, suspended, price_reason)
    VALUES ${lineValues}`,
  movements: `INSERT INTO movement (item_id, kind, from_place, to_place, quantity, receipt_line_id, by_id)
    VALUES ${[2, 4, 6].map((at) => `($${at}, 'sold', 'floor', 'buyer', 1, $${at + 1}, $1)`).join(", ")}`,
  tender: "INSERT INTO receipt_tender (receipt_id, kind, amount) VALUES ($1, 'cash', $2)",
  tax: `INSERT INTO receipt_tax (receipt_id, code, name, rate, base, tax)
    VALUES ($1, 'tax', 'Sales tax', 8250, $2, $3)`,
  entry: `INSERT INTO journal_entry (id, kind, description, sale_id, subject_id, by_id)
    VALUES ($1, 'receipt', 'Receipt', $2, $3, $4)`,
  postings: `INSERT INTO posting (entry_id, account_key, amount)
    VALUES ${[2, 4, 6, 8, 10].map((at) => `($1, $${at}, $${at + 1})`).join(", ")}`,
  audit: `INSERT INTO audit (deed, subject_id, detail, by_id, request_id)
    VALUES ('record-receipt', $1, $2, $3, 'bench')`,
};
