import type { SaleRead } from "../../database/sales.ts";
import { cashSteps } from "../../rules/cash-rounding.ts";
import { amountText, formatMoney, rateText } from "../../rules/currency.ts";
import type { Problem } from "../../rules/problem.ts";
import { allows } from "../../rules/sale-stage.ts";
import { taxTitle } from "../../rules/tax/tax-title.ts";
import { localTimeOf } from "../../rules/zoned-time.ts";
import { type Region, whenText } from "../format.ts";
import { filledRules, filledTaxes, ruleAt, taxAt } from "./terms-rows.ts";

type Guild = Region & { currency: string };

/** One line for the sale's page: the taxes, and what is special about cash and the last day. */
export function termsText({ tax, cashStep, markdownRate, markdownFrom }: SaleRead, guild: Guild) {
  const taxes = tax.components.map(taxTitle);
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
  const taxes = filledTaxes(values).length + 1;
  return {
    title: `Tax and cash at ${sale.name}`,
    backHref: `/sales/${sale.id}`,
    back: sale.name,
    action: `/sales/${sale.id}/terms`,
    terms: termsText(sale, guild),
    frozen: !allows(sale.stage, "edit-sale-rates"),
    timeZone: guild.timeZone,
    steps: cashSteps.map((step) => ({
      value: String(step),
      label:
        step === 1 ? "Exact" : `To the nearest ${formatMoney(step, guild.currency, guild.locale)}`,
    })),
    components: Array.from({ length: taxes }, (_, index) => {
      const at = taxAt(index);
      const rules = filledRules(values, at).length;
      return {
        at,
        legend: values[`${at}.name`] || (index === 0 ? "The tax" : "One more tax"),
        code: values[`${at}.code`] ?? "",
        rules: Array.from({ length: rules + 1 }, (_, place) => ({
          at: ruleAt(at, place),
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
