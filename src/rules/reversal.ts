import { isMinor, type Minor, partOf, total } from "./money.ts";
import { type FieldError, ok, type Result, refuse } from "./problem.ts";

/** A line as it was recorded: the figures of the sale and how many pieces came back before. */
export interface StoredLine {
  lineId: string;
  quantity: number;
  unitPrice: Minor;
  amount: Minor;
  tax: Minor;
  alreadyReturned: number;
}

/** How many pieces of a line come back now. */
export interface ReturnInput {
  lineId: string;
  quantity: number;
}

/** `quantity` counts pieces and is above zero; amounts and tax are zero or below. */
export interface ReversalLine {
  lineId: string;
  quantity: number;
  amount: Minor;
  tax: Minor;
}

export interface ComputedReversal {
  lines: ReversalLine[];
  subtotal: Minor;
  tax: Minor;
  total: Minor;
}

/**
 * The figures of a return or a void. Amount and tax are parts of what was stored, never worked
 * out afresh, so that returning every piece in any steps gives back exactly what was taken.
 */
export function computeReversal(
  original: { lines: readonly StoredLine[] },
  returns: readonly ReturnInput[],
): Result<ComputedReversal> {
  const byId = new Map(original.lines.map((line) => [line.lineId, line]));
  const errors = checkReturns(byId, returns);
  if (errors.length > 0)
    return refuse("invalid-input", `Nothing was recorded. ${errors[0]!.message}`, errors);
  const lines = returns.map(({ lineId, quantity }) => {
    const line = byId.get(lineId)!;
    const back = (stored: Minor) =>
      0 - partOf(stored, line.quantity, line.alreadyReturned, quantity);
    return { lineId, quantity, amount: back(line.amount), tax: back(line.tax) };
  });
  const subtotal = total(lines.map(({ amount }) => amount));
  const tax = total(lines.map((line) => line.tax));
  return ok({ lines, subtotal, tax, total: total([subtotal, tax]) });
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
