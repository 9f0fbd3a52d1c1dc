import { recordAdjustment } from "../../actions/adjustments/record-adjustment.ts";
import { payRunItems } from "../../actions/end-run-items.ts";
import { prepareRun } from "../../actions/prepare-run.ts";
import { recordCardTotal } from "../../actions/record-card-total.ts";
import { recordDeposit } from "../../actions/record-deposit.ts";
import type { Database } from "../../database/client.ts";
import { type Cast, must } from "./guild.ts";

const dayAfter = (day: Date, days: number): string =>
  new Date(day.getTime() + days * 86_400_000).toISOString().slice(0, 10);

/** Cash and cheques go to the bank; the terminal's report says what cards brought and cost. */
export async function bank(
  db: Database,
  cast: Cast,
  saleId: string,
  firstDay: Date,
): Promise<void> {
  const treasurer = cast.as(cast.the("treasurer"));
  const bankedOn = dayAfter(firstDay, 4);
  const cash = await standing(db, saleId, "cash-box");
  const cheques = await standing(db, saleId, "cheques");
  must(
    await recordDeposit(treasurer, {
      ...{ saleId, source: "cash-box", amount: cash, bankedOn, reference: "Bag 118" },
    }),
  );
  must(
    await recordDeposit(treasurer, {
      ...{ saleId, source: "cheques", amount: cheques, bankedOn, reference: "Slip 41" },
    }),
  );
  for (const { day, gross } of await cardsByDay(db, saleId)) {
    // 2.6 % in whole cents, as the invented processor charges it.
    const fee = Math.floor((gross * 26) / 1000);
    const report = { tillId: null, day, reference: `Report of ${day}` };
    must(await recordCardTotal(treasurer, { saleId, gross, fee, ...report }));
  }
}

async function cardsByDay(db: Database, saleId: string): Promise<{ day: string; gross: number }[]> {
  const rows = await db.$queryRaw<{ day: string; gross: bigint }[]>`
    SELECT to_char(r.made_at AT TIME ZONE g.time_zone, 'YYYY-MM-DD') AS day, sum(t.amount)::bigint AS gross
    FROM receipt r JOIN receipt_tender t ON t.receipt_id = r.id CROSS JOIN guild g
    WHERE r.sale_id = ${saleId}::uuid AND t.kind = 'card' GROUP BY 1 HAVING sum(t.amount) > 0 ORDER BY 1`;
  return rows.map(({ day, gross }) => ({ day, gross: Number(gross) }));
}

async function standing(db: Database, saleId: string, accountKey: string): Promise<number> {
  const { _sum } = await db.posting.aggregate({
    where: { accountKey, entry: { saleId } },
    _sum: { amount: true },
  });
  return Number(_sum.amount ?? 0n);
}

/** One decision of the committee about money, with its reason. */
export async function adjust(cast: Cast, saleId: string): Promise<void> {
  const { number: member } = cast.the("member", 1);
  const reason = "Bought the ribbon for the guild's bags";
  must(
    await recordAdjustment(cast.as(cast.the("treasurer")), saleId, {
      ...{ member, amount: 1_850, reason },
    }),
  );
}

/** All cheques in one run, as the treasurer writes them on an evening. */
export async function payByCheque(
  db: Database,
  cast: Cast,
  saleId: string,
  firstDay: Date,
): Promise<void> {
  const treasurer = cast.as(cast.the("treasurer"));
  const owed = await db.statement.findMany({
    where: { settlement: { saleId }, due: { gt: 0 } },
    orderBy: { number: "asc" },
  });
  const day = dayAfter(firstDay, 10);
  const statementIds = owed.map(({ id }) => id);
  const wanted = { method: "cheque" as const, saleId, statementIds, day, firstCheque: "2041" };
  const { runId } = must(await prepareRun(treasurer, wanted));
  must(await payRunItems(treasurer, runId, { positions: null, paidOn: day }));
}
