import { isMinor, type Minor, type Rate, total } from "./money.ts";
import { type FieldError, ok, type Result, refuse } from "./problem.ts";
import { taxOnReceipt } from "./tax.ts";
import {
  applyTenders,
  checkTenders,
  largestReceipt,
  type Tender,
  type TenderInput,
} from "./tender.ts";

export const mostLines = 500;

/** One item in the basket; prices in smallest coins, before tax, above zero. */
export interface BasketLine {
  itemId: string;
  tag: string;
  description: string;
  memberId: string;
  memberNumber: number;
  unitPrice: Minor;
  quantity: number;
  /** The whole amount goes to the guild. */
  donated: boolean;
}

/** `position` counts from 1; `tax` is this line's exact part of the receipt's tax. */
export interface ComputedLine extends BasketLine {
  position: number;
  amount: Minor;
  tax: Minor;
}

export interface ReceiptTotals {
  lines: ComputedLine[];
  subtotal: Minor;
  tax: Minor;
  total: Minor;
}

export interface ComputedReceipt extends ReceiptTotals {
  tenders: Tender[];
  cashGiven: Minor;
  change: Minor;
}

/** The figures of a basket that passed `checkBasket`, for the screen and before anyone pays. */
export function totalsOf(lines: readonly BasketLine[], taxRate: Rate): ReceiptTotals {
  const amounts = lines.map(({ unitPrice, quantity }) => unitPrice * quantity);
  const subtotal = total(amounts);
  const { tax, perLine } = taxOnReceipt(amounts, taxRate);
  return {
    lines: lines.map((line, index) => ({
      ...line,
      position: index + 1,
      amount: amounts[index]!,
      tax: perLine[index]!,
    })),
    subtotal,
    tax,
    total: total([subtotal, tax]),
  };
}

/** Every figure of a receipt, or what has to change first, named by field. */
export function computeReceipt(input: {
  lines: readonly BasketLine[];
  taxRate: Rate;
  tenders: readonly TenderInput[];
}): Result<ComputedReceipt> {
  const wrongLines = checkBasket(input.lines);
  if (wrongLines.length > 0) return refuseReceipt(wrongLines);
  const totals = totalsOf(input.lines, input.taxRate);
  const wrongTenders = checkTenders(input.tenders, totals.total);
  if (wrongTenders.length > 0) return refuseReceipt(wrongTenders);
  const receipt = { ...totals, ...applyTenders(input.tenders, totals.total) };
  assertAddsUp(receipt);
  return ok(receipt);
}

/** What is wrong with the lines, field by field ("lines.0.quantity"). */
export function checkBasket(lines: readonly BasketLine[]): FieldError[] {
  if (lines.length === 0) return [{ field: "lines", message: "Add at least one piece." }];
  if (lines.length > mostLines)
    return [{ field: "lines", message: `Take at most ${mostLines} lines on one receipt.` }];
  const firstLineOf = new Map<string, number>();
  const errors = lines.flatMap((line, index) => {
    const wrong = checkLine(line, `lines.${index}`);
    const earlier = firstLineOf.get(line.itemId);
    if (earlier === undefined) firstLineOf.set(line.itemId, index);
    else
      wrong.push({
        field: `lines.${index}.itemId`,
        message: `This tag is already on line ${earlier + 1}. Change the quantity there instead.`,
      });
    return wrong;
  });
  return errors;
}

function checkLine({ quantity, unitPrice }: BasketLine, at: string): FieldError[] {
  const errors: FieldError[] = [];
  if (!isMinor(quantity) || quantity < 1)
    errors.push({ field: `${at}.quantity`, message: "Type how many pieces, 1 or more." });
  if (!isMinor(unitPrice) || unitPrice <= 0)
    errors.push({ field: `${at}.unitPrice`, message: "A price must be above zero." });
  if (errors.length === 0 && BigInt(quantity) * BigInt(unitPrice) > BigInt(largestReceipt))
    errors.push({ field: `${at}.quantity`, message: "This is more than one line can hold." });
  return errors;
}

const refuseReceipt = (errors: FieldError[]) =>
  refuse("invalid-input", `The receipt is not recorded yet. ${errors[0]!.message}`, errors);

function assertAddsUp(receipt: ComputedReceipt): void {
  const paid = total(receipt.tenders.map(({ amount }) => amount));
  const lineTax = total(receipt.lines.map(({ tax }) => tax));
  if (paid !== receipt.total || lineTax !== receipt.tax)
    throw new Error(`A receipt of ${receipt.total} was paid with ${paid}, tax lines ${lineTax}`);
}
