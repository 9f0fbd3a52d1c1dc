import { type Minor, type Rate, total } from "../money.ts";
import { exactTaxes } from "./exact-tax.ts";
import { roundTaxes } from "./round-tax.ts";
import { type Day, ruleFor, type TaxRules } from "./tax-rules.ts";
import { type LineToTax, taxedPart } from "./taxed-part.ts";

/** What one component taxed (`base`, before tax) and how much it took. */
export interface ComponentTax {
  code: string;
  name: string;
  rate: Rate;
  base: Minor;
  tax: Minor;
}

export interface ReceiptTax {
  tax: Minor;
  /** Each line's exact part of the tax, stored so that a return gives back what was taken. */
  perLine: Minor[];
  /** The tax that stands in each line's price: what comes off it to leave the price before tax. */
  inPrice: Minor[];
  components: ComponentTax[];
}

/**
 * The tax of a receipt in whole smallest coins, half up. `perLine` and the components' taxes each
 * add up to `tax`, and no line's tax is more than its amount, under rules that passed
 * `checkTaxRules`. Only the tax is rounded; with tax in the prices, the net is what is left.
 *
 * An exempt buyer owes no tax: every tax and base is 0. When prices hold the tax the amounts that
 * go in stay as they are on the tags, and `inPrice` says what each line would have held: the
 * buyer pays the amount less that. Throws as `taxedPart` does.
 */
export function taxOf(
  lines: readonly LineToTax[],
  rules: TaxRules,
  { day, exemptBuyer }: { day: Day; exemptBuyer: boolean },
): ReceiptTax {
  const parts = rules.components.map((component) =>
    lines.map((line) => taxedPart(line, ruleFor(component, line.kind, day))),
  );
  const due = roundTaxes(exactTaxes(parts, rules), rules, lines.length);
  const inPrice = rules.included ? due.perLine : lines.map(() => 0);
  const perLine = exemptBuyer ? lines.map(() => 0) : due.perLine;
  const components = rules.components.map(({ code, name, rate }, index) => {
    const base = exemptBuyer ? 0 : baseOf(parts[index]!, inPrice);
    return { code, name, rate, base, tax: exemptBuyer ? 0 : due.perComponent[index]! };
  });
  return { tax: total(perLine), perLine, inPrice, components };
}

/** Prices that hold tax are taxed on what is left of them without any of it. */
const baseOf = (parts: readonly Minor[], inPrice: readonly Minor[]): Minor =>
  total(parts.map((part, line) => (part > 0 ? part - inPrice[line]! : 0)));
