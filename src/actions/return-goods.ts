import type { ReturnInput } from "../contract/receipt.ts";
import { balanceOf } from "../database/balance.ts";
import type { Transaction } from "../database/client.ts";
import { type Deed, perform } from "../database/perform.ts";
import type { ReceiptRead } from "../database/receipts.ts";
import type { CashRounding } from "../rules/cash-rounding.ts";
import { formatMoney } from "../rules/currency.ts";
import { drawer } from "../rules/ledger.ts";
import { ok, type Problem, type Result, refuse, refuseField } from "../rules/problem.ts";
import { computeReversal, refundBy } from "../rules/reversal.ts";
import { allows, type Stage } from "../rules/sale-stage.ts";
import {
  holdReceipt,
  type Reversed,
  reversalRefusals,
  storedLines,
  writeReversal,
} from "./write-reversal.ts";

/** Takes pieces back and gives their price and exact tax back; the pieces stand on the floor. */
export const returnGoods = (
  deed: Deed,
  input: ReturnInput & { receiptId: string },
): Promise<Result<Reversed>> =>
  perform(
    deed,
    "return-goods",
    input,
    async (tx) => {
      const original = await holdReceipt(tx, input.receiptId);
      if (!original) return refuse("not-found", "There is no such receipt.");
      if (original.kind !== "sale")
        return refuse("already-done", "Only what was sold can come back. Open the sale's receipt.");
      if (original.reversedBy.some(({ kind }) => kind === "void"))
        return refuse("already-done", "This receipt was called off, so nothing can come back.");
      const till = await readTill(tx, input.tillId, original.saleId);
      if (!till.ok) return till;
      const figures = computeReversal({ lines: storedLines(original) }, input.lines);
      if (!figures.ok) return { ok: false, problem: asSent(figures.problem) };
      const { kind, reference = "" } = input.tender;
      const refund = refundBy(kind, figures.value.total, till.value.cash);
      const paid = await checkDrawer(tx, till.value, kind, refund.amount);
      if (!paid.ok) return paid;
      const value = await writeReversal(tx, deed, original, {
        kind: "return",
        reason: input.reason,
        tillId: input.tillId,
        tillNumber: till.value.number,
        tillSessionId: till.value.sessionId,
        figures: figures.value,
        tenders: [{ kind, reference, amount: 0 - refund.amount }],
        rounding: refund.rounding,
        goesTo: new Map(input.lines.map(({ lineId, goesTo }) => [lineId, goesTo])),
      });
      return ok({ value, subjectId: original.id, detail: { ...value, reason: input.reason } });
    },
    reversalRefusals,
  );

/** The rules speak of returns; what was sent calls them lines. */
const asSent = (problem: Problem): Problem => ({
  ...problem,
  errors: problem.errors.map(({ field, message }) => ({
    field: field.replace(/^returns/, "lines"),
    message,
  })),
});

interface OpenTill {
  id: string;
  number: number;
  sessionId: string;
  currency: string;
  locale: string;
  cash: CashRounding;
}

/** Holds the till, so that two returns at once cannot both take the last note in its drawer. */
async function readTill(
  tx: Transaction,
  tillId: string,
  saleId: ReceiptRead["saleId"],
): Promise<Result<OpenTill>> {
  const rows = await tx.$queryRaw<(Omit<OpenTill, "sessionId"> & Found)[]>`
    SELECT t.id, t.number, s.stage, o.id AS "sessionId", g.currency, g.locale,
      json_build_object('step', s.cash_step, 'fives', s.cash_fives) AS cash,
      EXISTS (SELECT 1 FROM till_device d WHERE d.till_id = t.id) AS "onDevice"
    FROM till t JOIN sale s ON s.id = t.sale_id CROSS JOIN guild g
      LEFT JOIN till_session o ON o.till_id = t.id AND o.closed_at IS NULL
    WHERE t.id = ${tillId}::uuid AND t.sale_id = ${saleId}::uuid
    FOR NO KEY UPDATE OF t`;
  const till = rows[0];
  if (!till) return refuseField("tillId", "Choose a till of the same sale.");
  if (!allows(till.stage, "refund"))
    return refuse("stage-closed", "Returns end when the sale is closed. Nothing was recorded.");
  const { sessionId, onDevice } = till;
  if (onDevice)
    return refuseField(
      "tillId",
      "This till lives on a device of its own. Take the return there, or choose another till.",
    );
  if (sessionId === null)
    return refuse("till-closed", "Open the till first, so that the money can come out of it.", [
      { field: "tillId", message: "This till is not open." },
    ]);
  return ok({ ...till, sessionId });
}

interface Found {
  stage: Stage;
  sessionId: string | null;
  onDevice: boolean;
}

/** Cash that is not in the drawer cannot be handed out. */
async function checkDrawer(
  tx: Transaction,
  till: OpenTill,
  kind: string,
  back: number,
): Promise<Result<null>> {
  if (kind !== "cash") return ok(null);
  const held = await balanceOf(tx, drawer(till.id));
  if (held >= back) return ok(null);
  const words = (amount: number) => formatMoney(amount, till.currency, till.locale);
  const message = `The drawer of till ${till.number} holds ${words(held)}, but ${words(back)} goes back. Choose another way or another till.`;
  return refuseField("tender.kind", message);
}
