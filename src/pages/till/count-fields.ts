import { formatMoney, parseMoney } from "../../rules/currency.ts";
import {
  type CashCount,
  countCash,
  type Denomination,
  denominationsOf,
  mostOfOne,
} from "../../rules/denominations.ts";
import { type FieldError, ok, problem, type Result } from "../../rules/problem.ts";

const fieldOf = (value: number): string => `count.${value}`;

/** The fields of a count, the largest first; what is seldom seen stands apart. */
export function countFields({ currency, locale }: { currency: string; locale: string }) {
  const all = denominationsOf(currency);
  const shown = ({ value }: Denomination) => ({
    name: fieldOf(value),
    label: formatMoney(value, currency, locale),
  });
  return {
    usual: all.filter(({ usual }) => usual).map(shown),
    seldom: all.filter(({ usual }) => !usual).map(shown),
  };
}

/** What a form says about cash: how many of each, or just the sum in the field `field`. */
export function readCash(
  body: unknown,
  currency: string,
  field: string,
): Result<{ sum: number; counts: CashCount[] }> {
  const fields = (body ?? {}) as Record<string, unknown>;
  const typed = (name: string) => (typeof fields[name] === "string" ? fields[name].trim() : "");
  const wrong: FieldError[] = [];
  const counts = denominationsOf(currency).flatMap(({ value }) => {
    const text = typed(fieldOf(value));
    if (text === "") return [];
    if (/^\d{1,5}$/.test(text)) return [{ value, count: Number(text) }];
    wrong.push({
      field: fieldOf(value),
      message: `Type how many, in digits, at most ${mostOfOne}.`,
    });
    return [];
  });
  const sum = typed(field);
  const read = sum === "" && counts.length > 0 ? undefined : parseMoney(sum, currency, field);
  if (read?.ok === false && !(wrong.length > 0 && sum === "")) wrong.push(...read.problem.errors);
  if (wrong.length > 0 || read?.ok === false)
    return {
      ok: false,
      problem: problem("invalid-input", "Nothing was recorded yet. What you typed is here.", wrong),
    };
  return ok({ sum: read ? read.value : countCash(counts), counts });
}

/** The other fields of a form with a count in it. */
export const withoutCount = (body: unknown, field: string): Record<string, unknown> =>
  Object.fromEntries(
    Object.entries((body ?? {}) as object).filter(
      ([name]) => name !== field && !name.startsWith("count."),
    ),
  );
