import { writeEntry } from "../database/journal-writing.ts";
import { type Deed, perform } from "../database/perform.ts";
import { cardTotalPostings } from "../rules/bank-entries.ts";
import { negate } from "../rules/ledger.ts";
import { ok, problem, type Result, refuse } from "../rules/problem.ts";

/** Takes a card total back, with a reason: a new row and the opposite entry. The total itself stays. */
export const voidCardTotal = (
  deed: Deed,
  input: { cardTotalId: string; reason: string },
): Promise<Result<{ cardTotalId: string }>> =>
  perform(
    deed,
    "void-card-total",
    input,
    async (tx) => {
      const { cardTotalId, reason } = input;
      const found = await tx.cardTotal.findUnique({
        where: { id: cardTotalId },
        include: { voided: true, sale: true },
      });
      if (!found) return refuse("not-found", "There is no such card total.");
      if (found.voided) return { ok: false, problem: voidedAlready() };
      await tx.cardTotalVoid.create({ data: { cardTotalId, reason, byId: deed.actor.id } });
      const amounts = { gross: Number(found.gross), fee: Number(found.fee) };
      await writeEntry(tx, {
        byId: deed.actor.id,
        kind: "card-total-void",
        description: `Void of a card total, ${found.sale.name}`,
        saleId: found.saleId,
        subjectId: cardTotalId,
        postings: negate(cardTotalPostings(amounts)),
      });
      const value = { cardTotalId };
      return ok({ value, subjectId: cardTotalId, detail: { ...amounts, reason } });
    },
    { card_total_void_pkey: voidedAlready },
  );

const voidedAlready = () => problem("already-done", "This card total is void already.");
