import { type SaleChange, saleChange } from "../../contract/sale.ts";
import { parseMoney, parseRate } from "../../rules/currency.ts";
import { type FieldError, ok, problem, type Result } from "../../rules/problem.ts";
import { codeOf } from "../../rules/tax/tax-code.ts";
import { instantOf } from "../../rules/zoned-time.ts";
import type { FormGuild } from "./form.ts";
import { filledRules, filledTaxes, type Typed } from "./terms-rows.ts";

type Keep = <T>(read: Result<T>) => T | undefined;

/** Reads the form of a sale's terms, its rows packed: empty rows are behind the filled ones. */
export function readTerms(typed: Typed, guild: FormGuild): Result<SaleChange> {
  const errors: FieldError[] = [];
  const keep = <T>(read: Result<T>): T | undefined => {
    if (read.ok) return read.value;
    errors.push(...read.problem.errors);
    return undefined;
  };
  const from = typed.markdownFrom ?? "";
  const read = saleChange.safeParse({
    version: Number(typed.version),
    ...(typed.basis === undefined ? {} : { tax: taxIn(typed, guild, keep) }),
    ...(typed.cashStep === undefined ? {} : cashIn(typed)),
    markdownRate: keep(parseRate(typed.markdownRate || "0", "markdownRate")),
    markdownFrom: from === "" ? null : (instantOf(from.slice(0, 16), guild.timeZone) ?? from),
  });
  if (read.success && errors.length === 0) return ok(read.data);
  return refused(errors, read.success ? [] : read.error.issues);
}

const cashIn = (typed: Typed) => ({
  cashStep: Number(typed.cashStep),
  cashFives: typed.cashFives,
});

function taxIn(typed: Typed, guild: FormGuild, keep: Keep) {
  const taxes = filledTaxes(typed);
  const codes = taxes.map((at) => typed[`${at}.code`] ?? "");
  const components = taxes.map((at, index) => {
    const name = typed[`${at}.name`] ?? "";
    codes[index] ||= codeOf(name, codes);
    return {
      code: codes[index],
      name,
      rate: keep(parseRate(typed[`${at}.rate`] ?? "", `${at}.rate`)),
      rules: filledRules(typed, at).map((rule) => ruleIn(typed, rule, guild, keep)),
    };
  });
  return {
    included: typed.included === "yes",
    basis: typed.basis,
    together: typed.together === "yes",
    components,
  };
}

function ruleIn(typed: Typed, at: string, { currency }: FormGuild, keep: Keep) {
  const threshold = typed[`${at}.threshold`];
  return {
    kind: typed[`${at}.kind`] ?? "",
    mode: typed[`${at}.mode`] || "taxable",
    threshold: threshold ? keep(parseMoney(threshold, currency, `${at}.threshold`)) : undefined,
    from: typed[`${at}.from`] || undefined,
    to: typed[`${at}.to`] || undefined,
  };
}

function refused(errors: FieldError[], issues: { path: PropertyKey[]; message: string }[]) {
  const named = new Set(errors.map(({ field }) => field));
  const others = issues
    .map(({ path, message }) => ({ field: path.join("."), message }))
    .filter(({ field }) => !named.has(field));
  const detail = "Nothing was recorded yet. What you typed is still here.";
  return { ok: false as const, problem: problem("invalid-input", detail, [...errors, ...others]) };
}
