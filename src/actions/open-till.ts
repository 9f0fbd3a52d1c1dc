import type { OpeningInput } from "../contract/till.ts";
import { writeEntry } from "../database/journal-writing.ts";
import { type Deed, perform } from "../database/perform.ts";
import { openingPostings } from "../rules/ledger-entries.ts";
import { ok, problem, type Result, refuse } from "../rules/problem.ts";
import { allows, type Stage } from "../rules/sale-stage.ts";
import { checkCounted, keptCounts } from "./counted-cash.ts";

export interface OpenedTill {
  sessionId: string;
}

/** Opens a till with its float, which comes out of the cash box. A till has one open session. */
export const openTill = (
  deed: Deed,
  input: OpeningInput & { tillId: string },
): Promise<Result<OpenedTill>> =>
  perform(
    deed,
    "open-till",
    input,
    async (tx) => {
      // The sale cannot move on to another stage while the till is being opened.
      const tills = await tx.$queryRaw<{ saleId: string; number: number; stage: Stage }[]>`
        SELECT s.id AS "saleId", t.number, s.stage FROM till t JOIN sale s ON s.id = t.sale_id
        WHERE t.id = ${input.tillId}::uuid FOR SHARE OF s`;
      const till = tills[0];
      if (!till) return refuse("not-found", "There is no such till.");
      if (!allows(till.stage, "refund"))
        return refuse(
          "stage-closed",
          "Tills open while the sale is selling, and for returns while it is settled. The till stays closed.",
        );
      const { tillId, float, counts = [] } = input;
      const miscounted = await checkCounted(tx, counts, { field: "float", amount: float });
      if (miscounted) return miscounted;
      const row = { tillId, float: BigInt(float), counts: keptCounts(counts) };
      const session = await tx.tillSession.create({
        data: { ...row, openedById: deed.actor.id },
      });
      await writeEntry(tx, {
        kind: "open-till",
        description: `Float of till ${till.number}`,
        saleId: till.saleId,
        subjectId: session.id,
        byId: deed.actor.id,
        postings: openingPostings(float, tillId),
      });
      const value = { sessionId: session.id };
      return ok({ value, subjectId: tillId, detail: { ...value, float } });
    },
    { till_session_one_open: openAlready },
  );

const openAlready = () =>
  problem("already-done", "This till is open already. Its float stays as it was; just go on.");
