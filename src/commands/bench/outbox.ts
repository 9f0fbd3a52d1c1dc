import pg from "pg";
import { hashToken } from "../../plugins/session/tokens.ts";
import { baskets } from "./baskets.ts";
import { type BenchItem, type Hall, openHall, tillCount } from "./hall.ts";
import { load } from "./http-load.ts";
import { openPlainSql } from "./plain-sql.ts";
import { type BenchResult, inTurn } from "./rounds.ts";
import { saleFact } from "./sale-fact.ts";

const rounds = 5;
/** As many as a till's page sends at once when it has kept more. */
const lot = 20;

const tokenOf = (till: number): string => `bench till ${till}`;

/**
 * Eight tills with devices of their own, coming on line at once with full outboxes of receipts of
 * three lines, against the same rows in plain SQL over eight connections to the same server.
 */
export async function benchOutbox(seconds: number, itemCount = 6_000): Promise<BenchResult> {
  const hall = await openHall(itemCount);
  const admin = new pg.Client({ connectionString: hall.databaseUrl });
  await admin.connect();
  const plain = await openPlainSql(hall);
  try {
    await enrol(admin, hall);
    const next = baskets(hall);
    const each = seconds / (2 * rounds + 2);
    const ours = () => sendLots(hall, admin, each, next);
    const limit = () => plain.run(each, next);
    return await inTurn(`outbox in lots, ${itemCount} items`, rounds, ours, limit);
  } finally {
    await plain.close();
    await admin.end();
    await hall.close();
  }
}

async function enrol(admin: pg.Client, { tills, cashierId }: Hall): Promise<void> {
  for (const [till, { id }] of tills.entries())
    await admin.query(
      "INSERT INTO till_device (till_id, name, token_hash, enrolled_by_id) VALUES ($1, 'Bench', $2, $3)",
      [id, hashToken(tokenOf(till)), cashierId],
    );
}

async function sendLots(
  hall: Hall,
  admin: pg.Client,
  seconds: number,
  next: (till: number) => BenchItem[],
): Promise<number> {
  const last = await lastNumbers(hall, admin);
  const { perSecond, others } = await load(hall.address, tillCount, seconds, (till) => {
    const entries = Array.from({ length: lot }, () => {
      last[till] = last[till]! + 1;
      return { what: "receipt", body: saleFact(hall, till, last[till]!, next(till)) };
    });
    const status = { unsent: lot, lastNumber: last[till] };
    return {
      method: "POST",
      path: "/api/till/outbox",
      headers: {
        cookie: `thrumbook-till=${encodeURIComponent(tokenOf(till))}`,
        "x-till-status": JSON.stringify(status),
      },
      body: JSON.stringify({ entries }),
    };
  });
  // An answer can be a good one and still leave receipts on the till.
  const recorded = String(await lastNumbers(hall, admin)) === String(last);
  if (others > 0 || !recorded) throw new Error("Some receipts of the bench were not recorded.");
  return perSecond * lot;
}

/** The number that each till gave last. */
async function lastNumbers({ saleId }: Hall, admin: pg.Client): Promise<number[]> {
  const { rows } = await admin.query<{ number: number }>(
    `SELECT coalesce((SELECT max(number) FROM receipt WHERE till_id = t.id), 0) AS number
     FROM till t WHERE t.sale_id = $1 ORDER BY t.number`,
    [saleId],
  );
  return rows.map(({ number }) => number);
}
