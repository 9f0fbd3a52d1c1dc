import { isMinor, isRate } from "../money.ts";
import type { FieldError } from "../problem.ts";
import type { KindRule, TaxComponent, TaxRules } from "./tax-rules.ts";

export const mostComponents = 8;

/**
 * Half of the price. Above that, rounding several small taxes up could take more than a line
 * costs; no sales tax that we know of comes near it.
 */
export const highestTaxRate = 50_000;

/** What is wrong with the tax rules of a sale, field by field ("components.0.rules.1.from"). */
export function checkTaxRules({ included, components }: TaxRules): FieldError[] {
  const errors = components.flatMap((component, index) =>
    checkComponent(component, components.slice(0, index), `components.${index}`),
  );
  if (components.length > mostComponents)
    errors.push({ field: "components", message: `Use at most ${mostComponents} taxes.` });
  if (components.reduce((sum, { rate }) => sum + rate, 0) > highestTaxRate)
    errors.push({ field: "components", message: "The rates come to more than 50 %." });
  if (included && components.length > 1 && components.some(hasThreshold))
    errors.push({
      field: "included",
      message:
        "Prices that include tax cannot have thresholds with more than one tax. " +
        "Add the tax to the prices, or use a single tax.",
    });
  return errors;
}

function checkComponent(
  { code, name, rate, rules }: TaxComponent,
  earlier: readonly TaxComponent[],
  at: string,
): FieldError[] {
  const errors: FieldError[] = [];
  if (code === "") errors.push({ field: `${at}.code`, message: "Give this tax a short code." });
  if (earlier.some((other) => other.code === code))
    errors.push({ field: `${at}.code`, message: "Another tax has this code. Choose another." });
  if (name.trim() === "")
    errors.push({ field: `${at}.name`, message: "Type the name that receipts show." });
  if (!isRate(rate))
    errors.push({ field: `${at}.rate`, message: "A rate lies between 0 and 100 %." });
  for (const [index, rule] of rules.entries())
    errors.push(...checkRule(rule, rules.slice(0, index), `${at}.rules.${index}`));
  return errors;
}

function checkRule(rule: KindRule, earlier: readonly KindRule[], at: string): FieldError[] {
  const { kind, threshold, from, to } = rule;
  const errors: FieldError[] = [];
  if (kind === "") errors.push({ field: `${at}.kind`, message: "Choose a kind, or all kinds." });
  if (needsThreshold(rule) && (!isMinor(threshold) || threshold <= 0))
    errors.push({ field: `${at}.threshold`, message: "Type the price where the rule changes." });
  for (const [end, day] of Object.entries({ from, to }))
    if (day !== undefined && !isDay(day))
      errors.push({ field: `${at}.${end}`, message: "Type a day of the calendar." });
  if (errors.length === 0 && from !== undefined && to !== undefined && to < from)
    errors.push({ field: `${at}.to`, message: "The last day comes before the first day." });
  if (earlier.some((other) => other.kind === kind && other.from === from && other.to === to))
    errors.push({
      field: `${at}.kind`,
      message: "An earlier rule says something else about the same goods on the same days.",
    });
  return errors;
}

const needsThreshold = ({ mode }: KindRule): boolean =>
  mode === "exempt-under" || mode === "excess-over";

const hasThreshold = ({ rules }: TaxComponent): boolean => rules.some(needsThreshold);

/** A day that the calendar does not have (the 30th of February) comes back as another one. */
function isDay(text: string): boolean {
  if (!/^\d{4}-\d{2}-\d{2}$/.test(text)) return false;
  const at = new Date(`${text}T00:00:00Z`);
  return !Number.isNaN(at.getTime()) && at.toISOString().startsWith(text);
}
