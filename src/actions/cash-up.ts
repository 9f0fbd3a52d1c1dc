import type { CashUpInput } from "../contract/till.ts";
import { balanceOf } from "../database/balance.ts";
import { writeEntry } from "../database/journal-writing.ts";
import { type Deed, perform } from "../database/perform.ts";
import { drawer } from "../rules/ledger.ts";
import { cashUpPostings } from "../rules/ledger-entries.ts";
import { ok, type Result, refuse, refuseField } from "../rules/problem.ts";

export interface CashedUp {
  sessionId: string;
  expected: number;
  counted: number;
  /** Counted less expected: below zero when cash is missing. */
  difference: number;
}

/**
 * Closes a till: what the books expect in the drawer against what two people counted. The count
 * comes first and the expected figure after it. Sales stay as they are; a difference is posted.
 */
export const cashUp = (
  deed: Deed,
  input: CashUpInput & { tillId: string },
): Promise<Result<CashedUp>> =>
  perform(deed, "cash-up", input, async (tx) => {
    const { tillId, counted, witness, note } = input;
    if (sameName(witness, deed.actor.name))
      return refuseField("witness", "Two people count. Give the name of the other person.");
    // A receipt holds this row shared while it is being written, so none can slip in between.
    const open = await tx.$queryRaw<{ id: string; saleId: string; number: number }[]>`
      SELECT o.id, t.sale_id AS "saleId", t.number FROM till_session o JOIN till t ON t.id = o.till_id
      WHERE o.till_id = ${tillId}::uuid AND o.closed_at IS NULL FOR UPDATE OF o`;
    const session = open[0];
    if (!session)
      return refuse("till-closed", "It is cashed up already or was never opened. Nothing changed.");
    const expected = await balanceOf(tx, drawer(tillId));
    const value = { sessionId: session.id, expected, counted, difference: counted - expected };
    await tx.cashUp.create({
      data: {
        tillSessionId: session.id,
        expected: BigInt(expected),
        counted: BigInt(counted),
        difference: BigInt(value.difference),
        witness,
        note,
        byId: deed.actor.id,
      },
    });
    await tx.tillSession.update({ where: { id: session.id }, data: { closedAt: new Date() } });
    await writeEntry(tx, {
      kind: "cash-up",
      description: `Cash-up of till ${session.number}`,
      saleId: session.saleId,
      subjectId: session.id,
      byId: deed.actor.id,
      postings: cashUpPostings({ expected, counted }, tillId),
    });
    return ok({ value, subjectId: tillId, detail: value });
  });

const sameName = (one: string, other: string): boolean =>
  one.trim().toLocaleLowerCase() === other.trim().toLocaleLowerCase();
