import type { CashMoveFact, OutboxAnswer } from "../contract/till-fact.ts";
import { balanceOf } from "../database/balance.ts";
import type { Transaction } from "../database/client.ts";
import { writeEntry } from "../database/journal-writing.ts";
import { perform } from "../database/perform.ts";
import { drawer } from "../rules/ledger.ts";
import { cashMovePostings } from "../rules/ledger-entries.ts";
import { ok, type Result, refuse } from "../rules/problem.ts";
import type { FromTill } from "./record-fact.ts";

/**
 * Records cash that went to the safe, or in or out of a drawer, as a till's device sends it. The
 * cash has moved already, so a drawer that the books thought emptier is told and not refused.
 */
export async function recordCashMoveFact(
  { db, tillId, saleId, requestId }: FromTill,
  fact: CashMoveFact,
): Promise<Result<OutboxAnswer>> {
  const cashier = await cashierOf(db, fact.cashierId, tillId);
  const actor = { id: cashier, number: 0, name: "", roles: [] };
  return perform<OutboxAnswer>({ db, actor, requestId }, "move-cash", fact, async (tx) => {
    const { id, kind, amount, counts, reason, tillSessionId } = fact;
    if (await tx.cashMove.findUnique({ where: { id } }))
      return ok({ value: { id, recorded: "before", notes: [] }, subjectId: id });
    const session = await holdSession(tx, tillSessionId, tillId);
    if (!session)
      return refuse(
        "till-closed",
        "This move of cash is kept on the till: its drawer was cashed up. Ask the treasurer.",
      );
    const held = await balanceOf(tx, drawer(tillId));
    const row = { id, tillSessionId, kind, amount: BigInt(amount), counts, reason };
    await tx.cashMove.create({ data: { ...row, byId: cashier, at: new Date(fact.madeAt) } });
    await writeEntry(tx, {
      kind: "cash-move",
      description: `${words[kind]}, till ${session.number}`,
      saleId,
      subjectId: id,
      byId: cashier,
      postings: cashMovePostings(kind, amount, tillId),
    });
    const below = kind !== "paid-in" && held < amount;
    if (below) {
      const detail = { cashMoveId: id, held, amount };
      await tx.discrepancy.create({
        data: { saleId, kind: "drawer-below-zero", detail, byId: cashier },
      });
    }
    const notes = below ? ["drawer-below-zero"] : [];
    return ok({ value: { id, recorded: "now", notes }, subjectId: id, detail: { kind, amount } });
  });
}

const words = { "to-safe": "Cash to the safe", "paid-in": "Paid in", "paid-out": "Paid out" };

/** Held, so that the till is not cashed up between. */
async function holdSession(
  tx: Transaction,
  sessionId: string,
  tillId: string,
): Promise<{ number: number } | undefined> {
  const rows = await tx.$queryRaw<{ number: number }[]>`
    SELECT t.number FROM till_session o JOIN till t ON t.id = o.till_id
    WHERE o.id = ${sessionId}::uuid AND o.till_id = ${tillId}::uuid AND o.closed_at IS NULL FOR SHARE OF o`;
  return rows[0];
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
