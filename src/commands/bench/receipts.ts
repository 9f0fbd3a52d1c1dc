import { v7 } from "uuid";
import { baskets, figures } from "./baskets.ts";
import { type BenchItem, type Hall, openHall, tillCount } from "./hall.ts";
import { load } from "./http-load.ts";
import { openPlainSql } from "./plain-sql.ts";
import { type BenchResult, inTurn } from "./rounds.ts";

const rounds = 5;

/**
 * Receipts of three lines over HTTP, eight tills at once, against the same rows in plain SQL over
 * eight connections to the same server. `seconds` is for all rounds together.
 */
export async function benchReceipts(seconds: number, itemCount = 6_000): Promise<BenchResult> {
  const hall = await openHall(itemCount);
  const plain = await openPlainSql(hall);
  try {
    const next = baskets(hall);
    const each = seconds / (2 * rounds + 2);
    const ours = () => overHttp(hall, each, next);
    const limit = () => plain.run(each, next);
    const name = `receipt of 3 lines, ${itemCount} items`;
    return await inTurn(name, rounds, ours, limit);
  } finally {
    await plain.close();
    await hall.close();
  }
}

async function overHttp(hall: Hall, seconds: number, next: (till: number) => BenchItem[]) {
  const path = `/api/sales/${hall.saleId}/receipts`;
  const headers = { authorization: `Bearer ${hall.token}` };
  const { perSecond, others } = await load(hall.address, tillCount, seconds, (till) => ({
    method: "POST",
    path,
    headers,
    body: JSON.stringify({
      id: v7(),
      tillId: hall.tills[till]!.id,
      lines: next(till).map(({ tag }) => ({ tag, quantity: 1 })),
      tenders: [{ kind: "cash", amount: figures.total }],
      total: figures.total,
    }),
  }));
  if (others > 0) throw new Error(`${others} receipts of the bench were refused.`);
  return perSecond;
}
