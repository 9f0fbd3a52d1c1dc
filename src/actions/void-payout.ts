import { writeEntry } from "../database/journal-writing.ts";
import { type Deed, perform } from "../database/perform.ts";
import { negate } from "../rules/ledger.ts";
import { payoutPostings } from "../rules/ledger-entries.ts";
import { ok, problem, type Result, refuse } from "../rules/problem.ts";
import { allows, type Stage } from "../rules/sale-stage.ts";
import { sourceOf } from "./record-payout.ts";

export interface VoidedPayout {
  payoutId: string;
  statementId: string;
}

/** Takes a payout back, with a reason: a new row and the opposite entry. The payout itself stays. */
export const voidPayout = (
  deed: Deed,
  input: { payoutId: string; reason: string },
): Promise<Result<VoidedPayout>> =>
  perform(
    deed,
    "void-payout",
    input,
    async (tx) => {
      const payout = await tx.payout.findUnique({
        where: { id: input.payoutId },
        include: {
          voided: true,
          statement: { include: { member: true, settlement: { include: { sale: true } } } },
        },
      });
      if (!payout) return refuse("not-found", "There is no such payout.");
      const { statement } = payout;
      const { sale } = statement.settlement;
      if (!allows(sale.stage as Stage, "pay-out"))
        return refuse("stage-closed", "Nothing was voided: the sale is not being settled.");
      if (payout.voided) return { ok: false, problem: voidedAlready() };
      const { payoutId, reason } = input;
      await tx.payoutVoid.create({ data: { payoutId, reason, byId: deed.actor.id } });
      await writeEntry(tx, {
        byId: deed.actor.id,
        kind: "payout-void",
        description: `Void of the payout of statement ${statement.number} to member ${statement.member.number}`,
        saleId: sale.id,
        subjectId: payoutId,
        postings: negate(
          payoutPostings(statement.memberId, Number(payout.amount), sourceOf(payout.method)),
        ),
      });
      const value = { payoutId, statementId: statement.id };
      return ok({ value, subjectId: payoutId, detail: { ...value, reason } });
    },
    { payout_void_pkey: voidedAlready },
  );

const voidedAlready = () =>
  problem("already-done", "This payout is void already. The statement can be paid again.");
