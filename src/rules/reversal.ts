import { type CashRounding, exactCash, roundCash } from "./cash-rounding.ts";
import { isMinor, type Minor, partOf, total } from "./money.ts";
import { type FieldError, ok, type Result, refuse } from "./problem.ts";
import type { TenderKind } from "./tender.ts";

/** A line as it was recorded: the figures of the sale and how many pieces came back before. */
export interface StoredLine {
  lineId: string;
  quantity: number;
  unitPrice: Minor;
  discount: Minor;
  tax: Minor;
  /** The same as `tax` when the price held it, else 0. */
  taxIncluded: Minor;
  /** unitPrice × quantity − discount − taxIncluded */
  amount: Minor;
  alreadyReturned: number;
}

/** How many pieces of a line come back now. */
export interface ReturnInput {
  lineId: string;
  quantity: number;
}

/**
 * `quantity` counts pieces and is above zero; every amount is zero or below, and as in the sale
 * amount = gross − discount − taxIncluded.
 */
export interface ReversalLine {
  lineId: string;
  quantity: number;
  gross: Minor;
  discount: Minor;
  tax: Minor;
  taxIncluded: Minor;
  amount: Minor;
}

export interface ComputedReversal {
  lines: ReversalLine[];
  gross: Minor;
  discount: Minor;
  subtotal: Minor;
  tax: Minor;
  total: Minor;
}

/**
 * The figures of a return or a void. All are parts of what was stored, never worked out afresh,
 * so that returning every piece in any steps gives back exactly what was taken.
 */
export function computeReversal(
  original: { lines: readonly StoredLine[] },
  returns: readonly ReturnInput[],
): Result<ComputedReversal> {
  const byId = new Map(original.lines.map((line) => [line.lineId, line]));
  const errors = checkReturns(byId, returns);
  if (errors.length > 0)
    return refuse("invalid-input", `Nothing was recorded. ${errors[0]!.message}`, errors);
  const lines = returns.map(({ lineId, quantity }) => takeBack(byId.get(lineId)!, quantity));
  const sum = (figure: Exclude<keyof ReversalLine, "lineId">) =>
    total(lines.map((line) => line[figure]));
  const [subtotal, tax] = [sum("amount"), sum("tax")];
  return ok({
    lines,
    gross: sum("gross"),
    discount: sum("discount"),
    subtotal,
    tax,
    total: total([subtotal, tax]),
  });
}

/**
 * What goes back to the buyer when `back` (the total of a reversal, zero or below) is paid one
 * way: `amount` is the tender, zero or above, and `rounding` what cash differs by, so that
 * −amount = back + rounding, as in a sale.
 */
export function refundBy(
  kind: TenderKind,
  back: Minor,
  rule: CashRounding,
): { amount: Minor; rounding: Minor } {
  if (back > 0) throw new RangeError(`A refund cannot be of ${back}`);
  const { due, rounding } = roundCash(back, kind === "cash" ? rule : exactCash);
  return { amount: 0 - due, rounding };
}

/**
 * The pieces' own price is exact. Tax goes back in step with what was paid for the pieces after
 * the discount: splitting each figure by itself could give back a coin more than was paid. Throws when the
 * stored figures do not add up.
 */
function takeBack(line: StoredLine, quantity: number): ReversalLine {
  if (line.unitPrice * line.quantity !== line.amount + line.discount + line.taxIncluded)
    throw new Error(`The figures of line ${line.lineId} do not add up to its price`);
  const before = line.alreadyReturned;
  const gross = line.unitPrice * quantity;
  const discount = partOf(line.discount, line.quantity, before, quantity);
  const paid = line.amount + line.taxIncluded;
  const paidBefore = line.unitPrice * before - partOf(line.discount, line.quantity, 0, before);
  const inStep = (tax: Minor) => (paid === 0 ? 0 : partOf(tax, paid, paidBefore, gross - discount));
  const taxIncluded = inStep(line.taxIncluded);
  return {
    lineId: line.lineId,
    quantity,
    gross: 0 - gross,
    discount: 0 - discount,
    tax: 0 - inStep(line.tax),
    taxIncluded: 0 - taxIncluded,
    amount: 0 - (gross - discount - taxIncluded),
  };
}

function checkReturns(
  byId: ReadonlyMap<string, StoredLine>,
  returns: readonly ReturnInput[],
): FieldError[] {
  if (returns.length === 0)
    return [{ field: "returns", message: "Choose at least one piece that comes back." }];
  const seen = new Set<string>();
  return returns.flatMap(({ lineId, quantity }, index) => {
    const line = byId.get(lineId);
    const twice = seen.has(lineId);
    seen.add(lineId);
    if (!line)
      return [{ field: `returns.${index}.lineId`, message: "This line is not on that receipt." }];
    if (twice)
      return [{ field: `returns.${index}.lineId`, message: "This line is in the list twice." }];
    return checkQuantityBack(line, quantity, `returns.${index}.quantity`);
  });
}

function checkQuantityBack(line: StoredLine, quantity: number, field: string): FieldError[] {
  const left = line.quantity - line.alreadyReturned;
  if (left === 0) return [{ field, message: "All pieces of this line have come back already." }];
  if (!isMinor(quantity) || quantity < 1)
    return [{ field, message: "Type how many pieces come back, 1 or more." }];
  if (quantity > left)
    return [{ field, message: `At most ${left} of this line can still come back.` }];
  return [];
}
