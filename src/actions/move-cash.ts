import type { CashMoveInput } from "../contract/till.ts";
import type { CashMoveFact, OutboxAnswer } from "../contract/till-fact.ts";
import { balanceOf } from "../database/balance.ts";
import type { Transaction } from "../database/client.ts";
import { type Deed, perform } from "../database/perform.ts";
import { formatMoney } from "../rules/currency.ts";
import type { CashCount } from "../rules/denominations.ts";
import { drawer } from "../rules/ledger.ts";
import { ok, problem, type Result, refuse, refuseField } from "../rules/problem.ts";
import { checkCounted, keptCounts } from "./counted-cash.ts";
import type { FromTill } from "./record-fact.ts";
import { holdOpenSession, writeCashMove } from "./write-cash-move.ts";

export interface MovedCash {
  id: string;
  recorded: "now" | "before";
}

/**
 * Records cash that goes to the safe, or in or out of an open drawer without a sale. The id makes
 * it repeat-safe; more than the drawer holds cannot leave it.
 */
export const moveCash = (
  deed: Deed,
  input: CashMoveInput & { tillId: string },
): Promise<Result<MovedCash>> =>
  perform<MovedCash>(
    deed,
    "move-cash",
    input,
    async (tx) => {
      const { id, tillId, kind, amount, counts = [], reason } = input;
      if (kind !== "to-safe" && reason === "")
        return refuseField("reason", "Say what the cash was for.");
      const session = await holdOpenSession(tx, tillId);
      const earlier = await tx.cashMove.findUnique({ where: { id } });
      if (earlier && !isSame(earlier, input)) return { ok: false, problem: otherMove() };
      if (earlier) return ok({ value: { id, recorded: "before" }, subjectId: id });
      if (!session)
        return refuse("till-closed", "Cash moves only at an open till. Nothing was recorded.");
      const miscounted = await checkCounted(tx, counts, { field: "amount", amount });
      if (miscounted) return miscounted;
      const held = await balanceOf(tx, drawer(tillId));
      if (kind !== "paid-in" && amount > held) return tooMuch(tx, amount);
      const move = { id, kind, amount, counts, reason };
      await writeCashMove(tx, session, move, { id: deed.actor.id, at: new Date() });
      return ok({ value: { id, recorded: "now" }, subjectId: id, detail: { kind, amount } });
    },
    { cash_move_pkey: otherMove },
  );

const isSame = (
  row: { kind: string; amount: bigint; reason: string; counts: unknown },
  { kind, amount, reason, counts = [] }: CashMoveInput,
): boolean =>
  row.kind === kind &&
  Number(row.amount) === amount &&
  row.reason === reason &&
  // The database orders the fields of its own, so both sides are put in one order.
  JSON.stringify(keptCounts(row.counts as unknown as CashCount[])) ===
    JSON.stringify(keptCounts(counts));

const otherMove = () =>
  problem("key-reused", "Another move of cash has this id. What came first was kept.");

/** Says nothing of what the drawer holds: the cash-up counts it without knowing. */
async function tooMuch(tx: Transaction, amount: number) {
  const { currency, locale } = await tx.guild.findFirstOrThrow();
  const shown = formatMoney(amount, currency, locale);
  return refuseField(
    "amount",
    `By the books there is less than ${shown} in the drawer. Nothing was recorded; count again what you took out.`,
  );
}

/**
 * Records a move of cash as a till's device sends it. The cash has moved already, so a drawer that
 * the books thought emptier is told and not refused.
 */
export async function recordCashMoveFact(
  { db, tillId, saleId, requestId }: FromTill,
  fact: CashMoveFact,
): Promise<Result<OutboxAnswer>> {
  const cashier = await cashierOf(db, fact.cashierId, tillId);
  const actor = { id: cashier, number: 0, name: "", roles: [] };
  return perform<OutboxAnswer>({ db, actor, requestId }, "move-cash", fact, async (tx) => {
    const { id, kind, amount, tillSessionId, madeAt } = fact;
    const session = await holdOpenSession(tx, tillId);
    if (await tx.cashMove.findUnique({ where: { id } }))
      return ok({ value: { id, recorded: "before", notes: [] }, subjectId: id });
    if (!session)
      return refuse(
        "till-closed",
        "This move of cash is kept on the till: its drawer is cashed up. Open the till again with a float of 0, and cash it up once all is sent.",
      );
    const held = await balanceOf(tx, drawer(tillId));
    // A till's page asks for a reason; without one the cash has moved all the same.
    const reason = fact.reason || (kind === "to-safe" ? "" : "No reason given");
    await writeCashMove(tx, session, { ...fact, reason }, { id: cashier, at: new Date(madeAt) });
    const notes = [
      ...(kind !== "paid-in" && held < amount ? ["drawer-below-zero"] : []),
      ...(session.id === tillSessionId ? [] : ["after-cash-up"]),
    ];
    const detail = { cashMoveId: id, held, amount };
    await tx.discrepancy.createMany({
      data: notes.map((note) => ({ saleId, kind: note, detail, byId: cashier })),
    });
    return ok({ value: { id, recorded: "now", notes }, subjectId: id, detail: { kind, amount } });
  });
}

/** The named cashier, or whoever enrolled the till when the guild does not know that one. */
async function cashierOf(db: FromTill["db"], wanted: string, tillId: string): Promise<string> {
  const found = await db.member.findFirst({
    where: { id: wanted, roles: { hasSome: ["cashier", "chair"] } },
    select: { id: true },
  });
  if (found) return found.id;
  return (await db.tillDevice.findUniqueOrThrow({ where: { tillId } })).enrolledById;
}
