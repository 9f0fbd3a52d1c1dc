import type { SaleRead } from "../../database/sales.ts";
import { cashSteps } from "../../rules/cash-rounding.ts";
import { amountText, formatMoney, rateText } from "../../rules/currency.ts";
import type { Problem } from "../../rules/problem.ts";
import { allows } from "../../rules/sale-stage.ts";
import { localTimeOf } from "../../rules/zoned-time.ts";
import { type Region, whenText } from "../format.ts";
import { mostRules, mostTaxes } from "./terms-form.ts";

type Guild = Region & { currency: string };

/** One line for the sale's page: the taxes, and what is special about cash and the last day. */
export function termsText({ tax, cashStep, markdownRate, markdownFrom }: SaleRead, guild: Guild) {
  const taxes = tax.components.map(({ name, rate }) =>
    // Some guilds name the rate in the words themselves: "Sales tax 8.25 %".
    name.includes(rateText(rate)) ? name : `${name} ${rateText(rate)} %`,
  );
  const inside = tax.included ? " in the prices" : "";
  const cash =
    cashStep === 1 ? [] : [`cash to ${formatMoney(cashStep, guild.currency, guild.locale)}`];
  const last =
    markdownFrom && markdownRate
      ? [`${rateText(markdownRate)} % off from ${whenText(markdownFrom, guild)}`]
      : [];
  return [taxes.length ? `${taxes.join(", ")}${inside}` : "no tax", ...cash, ...last].join("; ");
}

/** What stands in the form, by the names of its fields. */
export function termsValues(sale: SaleRead, guild: Guild): Record<string, string> {
  const { tax } = sale;
  const values: Record<string, string> = {
    version: String(sale.version),
    included: tax.included ? "yes" : "no",
    basis: tax.basis,
    together: tax.together ? "yes" : "",
    cashStep: String(sale.cashStep),
    cashFives: sale.cashFives,
    markdownRate: sale.markdownRate === 0 ? "" : rateText(sale.markdownRate),
    markdownFrom: sale.markdownFrom ? localTimeOf(sale.markdownFrom, guild.timeZone) : "",
  };
  for (const [index, component] of tax.components.entries()) {
    const at = `tax.components.${index}`;
    values[`${at}.code`] = component.code;
    values[`${at}.name`] = component.name;
    values[`${at}.rate`] = rateText(component.rate);
    for (const [place, rule] of component.rules.entries()) {
      const row = `${at}.rules.${place}`;
      values[`${row}.kind`] = rule.kind;
      values[`${row}.mode`] = rule.mode;
      values[`${row}.threshold`] = rule.threshold ? amountText(rule.threshold, guild.currency) : "";
      values[`${row}.from`] = rule.from ?? "";
      values[`${row}.to`] = rule.to ?? "";
    }
  }
  return values;
}

interface Filling {
  sale: SaleRead;
  guild: Guild;
  kinds: { code: string; name: string }[];
  values: Record<string, string>;
  problem?: Problem;
}

export function termsPage({ sale, guild, kinds, values, problem }: Filling) {
  const filled = (prefix: string, most: number, field: string) =>
    Array.from({ length: most }, (_, index) => index).filter(
      (index) => values[`${prefix}.${index}.${field}`],
    );
  const taxes = Math.min(mostTaxes, filled("tax.components", mostTaxes, "name").length + 1);
  return {
    title: `Tax and cash at ${sale.name}`,
    backHref: `/sales/${sale.id}`,
    back: sale.name,
    action: `/sales/${sale.id}/terms`,
    frozen: !allows(sale.stage, "edit-sale-rates"),
    timeZone: guild.timeZone,
    steps: cashSteps.map((step) => ({
      value: String(step),
      label:
        step === 1 ? "Exact" : `To the nearest ${formatMoney(step, guild.currency, guild.locale)}`,
    })),
    components: Array.from({ length: taxes }, (_, index) => {
      const at = `tax.components.${index}`;
      const rules = filled(`${at}.rules`, mostRules, "kind").length;
      return {
        at,
        legend: values[`${at}.name`] || (index === 0 ? "The tax" : "One more tax"),
        code: values[`${at}.code`] ?? "",
        rules: Array.from({ length: Math.min(mostRules, rules + 2) }, (_, place) => ({
          at: `${at}.rules.${place}`,
          name: `Rule ${place + 1}`,
        })),
        open: rules > 0,
      };
    }),
    kinds: [
      { value: "*", label: "All kinds" },
      ...kinds.map(({ code, name }) => ({ value: code, label: name })),
    ],
    values,
    problem,
  };
}
