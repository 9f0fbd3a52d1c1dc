import type { TillSceneShown } from "../../../contract/till-device.ts";
import type { FactLine, ReceiptFact } from "../../../contract/till-fact.ts";
import { ok, type Result } from "../../../rules/problem.ts";
import {
  type ComputedReversal,
  computeReversal,
  type ReturnInput,
  refundBy,
} from "../../../rules/reversal.ts";
import type { TenderKind } from "../../../rules/tender.ts";
import { type ReturnedBefore, storedLines } from "./coming-back.ts";
import { cashRule } from "./figures.ts";
import type { Seller, Unnumbered } from "./sale-fact.ts";
import { taxesBack } from "./taxes-back.ts";

export interface Return {
  sale: ReceiptFact;
  before: ReturnedBefore;
  returns: ReturnInput[];
  goesTo: "floor" | "member";
  reason: string;
}

/** What a return is worth, before anybody decides how the money goes back. */
export const worthOf = ({ sale, before, returns }: Return): Result<ComputedReversal> =>
  computeReversal({ lines: storedLines(sale, before) }, returns);

/** Money back in one way; cash is rounded as it is for a sale. */
export function tendersBack(way: TenderKind, back: number, scene: TillSceneShown) {
  const { amount, rounding } = refundBy(way, back, cashRule(scene));
  return { tenders: [{ kind: way, amount: 0 - amount, reference: "" }], rounding };
}

interface Paper {
  id: string;
  seller: Seller;
  now: Date;
  newId(): string;
}

/** A return as it goes out, or what is wrong with it. Exact parts of what the sale stored. */
export function returnFact(
  wanted: Return,
  money: Pick<ReceiptFact, "tenders" | "rounding">,
  paper: Paper,
  exchangeId: string | null = null,
): Result<Unnumbered> {
  const back = worthOf(wanted);
  if (!back.ok) return back;
  const { sale, before, goesTo, reason } = wanted;
  const byId = new Map(sale.lines.map((line) => [line.id, line]));
  const lines = back.value.lines.map(
    ({ lineId, quantity, discount, amount, tax, taxIncluded }): FactLine => ({
      ...byId.get(lineId)!,
      ...{ id: paper.newId(), quantity: 0 - quantity, discount, amount, tax },
      taxInside: taxIncluded,
      reversesLineId: lineId,
      goesTo,
    }),
  );
  const gone = partsGone(sale, before);
  const taxes = taxesBack(
    sale.taxes,
    { before: gone.tax, now: 0 - back.value.tax },
    { whole: sale.subtotal, before: gone.subtotal, now: 0 - back.value.subtotal },
  );
  const { subtotal, tax, total: worth } = back.value;
  const figures = { subtotal, tax, total: worth, cashGiven: 0, change: 0 };
  return ok({
    ...heading(sale, paper),
    kind: "return",
    exchangeId,
    reason,
    lines,
    taxes,
    ...money,
    ...figures,
  });
}

/** Calls a whole sale off: every figure with the other sign, the money back as it came. */
export function voidFact(sale: ReceiptFact, reason: string, paper: Paper): Unnumbered {
  const minus = (amount: number) => 0 - amount;
  return {
    ...heading(sale, paper),
    kind: "void",
    exchangeId: null,
    reason,
    lines: sale.lines.map((line) => ({
      ...line,
      id: paper.newId(),
      quantity: minus(line.quantity),
      discount: minus(line.discount),
      amount: minus(line.amount),
      tax: minus(line.tax),
      taxInside: minus(line.taxInside),
      reversesLineId: line.id,
      goesTo: "floor",
    })),
    taxes: sale.taxes.map((tax) => ({ ...tax, base: minus(tax.base), tax: minus(tax.tax) })),
    tenders: sale.tenders.map((tender) => ({ ...tender, amount: minus(tender.amount) })),
    subtotal: minus(sale.subtotal),
    tax: minus(sale.tax),
    total: minus(sale.total),
    rounding: minus(sale.rounding),
    cashGiven: 0,
    change: 0,
  };
}

const heading = (sale: ReceiptFact, { id, seller, now }: Paper) => ({
  id,
  madeAt: now.toISOString(),
  tillSessionId: seller.sessionId,
  cashierId: seller.cashierId,
  reversesId: sale.id,
  exemption: sale.exemption,
});

/** What went back of a sale before, worked out from the pieces that came. */
function partsGone(sale: ReceiptFact, before: ReturnedBefore): { subtotal: number; tax: number } {
  const returns = [...before].map(([lineId, quantity]) => ({ lineId, quantity }));
  if (returns.length === 0) return { subtotal: 0, tax: 0 };
  const gone = computeReversal({ lines: storedLines(sale, new Map()) }, returns);
  if (!gone.ok) throw new Error(`More came back of receipt ${sale.id} than it sold`);
  return {
    subtotal: 0 - gone.value.subtotal,
    tax: 0 - gone.value.tax,
  };
}
