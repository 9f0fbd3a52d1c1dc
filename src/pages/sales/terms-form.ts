import { type SaleChange, saleChange } from "../../contract/sale.ts";
import { parseMoney, parseRate } from "../../rules/currency.ts";
import { type FieldError, ok, problem, type Result } from "../../rules/problem.ts";
import { codeOf } from "../../rules/tax/tax-code.ts";
import { instantOf } from "../../rules/zoned-time.ts";
import type { FormGuild } from "./form.ts";

type Typed = Record<string, string>;

/** So many taxes and rules have room on the page; the API knows no such limit. */
export const mostTaxes = 4;
export const mostRules = 12;

/** Reads the form of a sale's terms: rows without a name or a kind are empty rows. */
export function readTerms(body: unknown, guild: FormGuild): Result<SaleChange> {
  const typed = (body ?? {}) as Typed;
  const errors: FieldError[] = [];
  const keep = <T>(read: Result<T>): T | undefined => {
    if (read.ok) return read.value;
    errors.push(...read.problem.errors);
    return undefined;
  };
  const components = rowsOf(typed, "tax.components", mostTaxes, "name").map(
    ([at, name], index) => ({
      code: typed[`${at}.code`] || codeOf(name, index),
      name,
      rate: keep(parseRate(typed[`${at}.rate`] ?? "", `${at}.rate`)),
      rules: rowsOf(typed, `${at}.rules`, mostRules, "kind").map(([rule, kind]) => ({
        kind,
        mode: typed[`${rule}.mode`] || "taxable",
        threshold: typed[`${rule}.threshold`]
          ? keep(parseMoney(typed[`${rule}.threshold`]!, guild.currency, `${rule}.threshold`))
          : undefined,
        from: typed[`${rule}.from`] || undefined,
        to: typed[`${rule}.to`] || undefined,
      })),
    }),
  );
  const from = typed.markdownFrom?.trim() ?? "";
  const change = {
    version: Number(typed.version),
    tax: {
      included: typed.included === "yes",
      basis: typed.basis,
      together: typed.together === "yes",
      components,
    },
    cashStep: Number(typed.cashStep),
    cashFives: typed.cashFives,
    markdownRate: keep(parseRate(typed.markdownRate || "0", "markdownRate")),
    markdownFrom: from === "" ? null : (instantOf(from.slice(0, 16), guild.timeZone) ?? from),
  };
  const read = saleChange.safeParse(change);
  if (read.success && errors.length === 0) return ok(read.data);
  return refused(errors, read.success ? [] : read.error.issues);
}

/** The filled rows of a list: where each stands in the form, and what fills it. */
function rowsOf(typed: Typed, list: string, most: number, field: string): [string, string][] {
  return Array.from({ length: most }, (_, index) => `${list}.${index}`)
    .map((at): [string, string] => [at, (typed[`${at}.${field}`] ?? "").trim()])
    .filter(([, value]) => value !== "");
}

function refused(errors: FieldError[], issues: { path: PropertyKey[]; message: string }[]) {
  const named = new Set(errors.map(({ field }) => field));
  const others = issues
    .map(({ path, message }) => ({ field: path.join("."), message }))
    .filter(({ field }) => !named.has(field));
  const detail = "Nothing was recorded yet. What you typed is still here.";
  return { ok: false as const, problem: problem("invalid-input", detail, [...errors, ...others]) };
}
