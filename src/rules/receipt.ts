import { type BasketLine, checkBasket } from "./basket.ts";
import type { CashRounding } from "./cash-rounding.ts";
import { markdown } from "./discount.ts";
import { type Minor, type Rate, total } from "./money.ts";
import { type FieldError, ok, type Result, refuse } from "./problem.ts";
import { type ComponentTax, type ReceiptTax, taxOf } from "./tax/tax-of.ts";
import type { Day, TaxRules } from "./tax/tax-rules.ts";
import { applyTenders, checkTenders, type Payment, type TenderInput } from "./tender.ts";

/** What a sale and its buyer settle for a whole receipt. */
export interface ReceiptTerms {
  tax: TaxRules;
  /** The day of the sale where the guild is. */
  day: Day;
  /** The buyer showed a certificate and owes no tax. */
  exempt: boolean;
  /** The last-day markdown; 0 when there is none. */
  markdownRate: Rate;
}

/** `position` counts from 1; `tax` is this line's exact part of the receipt's tax. */
export interface ComputedLine extends BasketLine {
  position: number;
  /** Price × pieces, as the tag says. */
  gross: Minor;
  /** The markdown and, in prices that hold tax, what an exempt buyer does not pay of them. */
  discount: Minor;
  tax: Minor;
  /** The same as `tax` when the price holds it; 0 when tax comes on top. */
  taxIncluded: Minor;
  /** gross − discount − taxIncluded: what the owner of the line is credited with. */
  amount: Minor;
}

/** Every figure is the sum of its lines, and `total` = subtotal + tax. */
export interface ReceiptTotals {
  lines: ComputedLine[];
  gross: Minor;
  discount: Minor;
  /** The sum of the lines' amounts: before tax, whether it was in the prices or not. */
  subtotal: Minor;
  tax: Minor;
  total: Minor;
  components: ComponentTax[];
}

/** The tenders add up to total + rounding. */
export interface ComputedReceipt extends ReceiptTotals, Payment {}

/**
 * The figures of a basket that passed `checkBasket`, for the screen and before anyone pays: the
 * markdown first, the tax on what is left. From an exempt buyer the tax that stands in a price is
 * taken off as a discount, so that the owner is credited the same either way. Throws for a rate
 * or a price that cannot be.
 */
export function totalsOf(lines: readonly BasketLine[], terms: ReceiptTerms): ReceiptTotals {
  const gross = lines.map(({ unitPrice, quantity }) => unitPrice * quantity);
  const markdowns = markdown(
    lines.map((line, index) => ({ amount: gross[index]!, allowed: line.markdownAllowed })),
    terms.markdownRate,
  );
  const taxes = taxOf(
    lines.map(({ taxKind, quantity, kind }, index) => ({
      kind: taxKind,
      quantity,
      amount: gross[index]! - markdowns[index]!,
      taxed: kind !== "donation",
    })),
    terms.tax,
    { day: terms.day, exemptBuyer: terms.exempt },
  );
  const computed = lines.map((line, index) => {
    const inPrice = taxes.inPrice[index]!;
    const discount = markdowns[index]! + (terms.exempt ? inPrice : 0);
    const taxIncluded = terms.exempt ? 0 : inPrice;
    const amount = gross[index]! - discount - taxIncluded;
    return {
      ...line,
      position: index + 1,
      ...{ gross: gross[index]!, discount, tax: taxes.perLine[index]!, taxIncluded, amount },
    };
  });
  return addUp(computed, taxes);
}

function addUp(lines: ComputedLine[], { tax, components }: ReceiptTax): ReceiptTotals {
  const subtotal = total(lines.map(({ amount }) => amount));
  return {
    lines,
    gross: total(lines.map(({ gross }) => gross)),
    discount: total(lines.map(({ discount }) => discount)),
    subtotal,
    tax,
    total: total([subtotal, tax]),
    components,
  };
}

/** Every figure of a receipt, or what has to change first, named by field. */
export function computeReceipt(
  input: ReceiptTerms & {
    lines: readonly BasketLine[];
    tenders: readonly TenderInput[];
    cash: CashRounding;
  },
): Result<ComputedReceipt> {
  const wrongLines = checkBasket(input.lines);
  if (wrongLines.length > 0) return refuseReceipt(wrongLines);
  const totals = totalsOf(input.lines, input);
  const wrongTenders = checkTenders(input.tenders, totals.total, input.cash);
  if (wrongTenders.length > 0) return refuseReceipt(wrongTenders);
  const receipt = { ...totals, ...applyTenders(input.tenders, totals.total, input.cash) };
  assertAddsUp(receipt);
  return ok(receipt);
}

const refuseReceipt = (errors: FieldError[]) =>
  refuse("invalid-input", `The receipt is not recorded yet. ${errors[0]!.message}`, errors);

function assertAddsUp(receipt: ComputedReceipt): void {
  const paid = total(receipt.tenders.map(({ amount }) => amount));
  const lineTax = total(receipt.lines.map(({ tax }) => tax));
  if (paid !== receipt.total + receipt.rounding || lineTax !== receipt.tax)
    throw new Error(`A receipt of ${receipt.total} was paid with ${paid}, tax lines ${lineTax}`);
}
