import { writeEntry } from "../database/journal-writing.ts";
import { type Deed, perform } from "../database/perform.ts";
import { type DepositSource, depositPostings } from "../rules/bank-entries.ts";
import { negate } from "../rules/ledger.ts";
import { ok, problem, type Result, refuse } from "../rules/problem.ts";

/** Takes a deposit back, with a reason: a new row and the opposite entry. The deposit itself stays. */
export const voidDeposit = (
  deed: Deed,
  input: { depositId: string; reason: string },
): Promise<Result<{ depositId: string }>> =>
  perform(
    deed,
    "void-deposit",
    input,
    async (tx) => {
      const { depositId, reason } = input;
      const deposit = await tx.deposit.findUnique({
        where: { id: depositId },
        include: { voided: true, sale: true },
      });
      if (!deposit) return refuse("not-found", "There is no such deposit.");
      if (deposit.voided) return { ok: false, problem: voidedAlready() };
      await tx.depositVoid.create({ data: { depositId, reason, byId: deed.actor.id } });
      const amount = Number(deposit.amount);
      await writeEntry(tx, {
        byId: deed.actor.id,
        kind: "deposit-void",
        description: `Void of a deposit, ${deposit.sale.name}`,
        saleId: deposit.saleId,
        subjectId: depositId,
        postings: negate(depositPostings(deposit.source as DepositSource, amount)),
      });
      return ok({ value: { depositId }, subjectId: depositId, detail: { amount, reason } });
    },
    { deposit_void_pkey: voidedAlready },
  );

const voidedAlready = () => problem("already-done", "This deposit is void already.");
