import { type PolicyChangeInput, policyChangeShape } from "../../contract/policy.ts";
import { parseMoney, parseRate } from "../../rules/currency.ts";
import { type FieldError, ok, problem, type Result } from "../../rules/problem.ts";
import { codeOf } from "../../rules/tax/tax-code.ts";
import { parseHours } from "../../rules/work-hours.ts";
import type { Typed } from "../sales/terms-rows.ts";
import { filledRows } from "./rows.ts";

/** Reads single fields and keeps what is wrong with them. */
interface Reader {
  text(field: string): string;
  rate(field: string): number | undefined;
  money(field: string): number | undefined;
  hours(field: string): number | undefined;
  /** For fields that may stay empty: what it means then, else what the reader makes of it. */
  or<T, U>(empty: T, field: string, read: (field: string) => U): T | U;
}

/** Reads the form of a policy, its rows packed: empty rows are behind the filled ones. */
export function readPolicy(typed: Typed, currency: string): Result<PolicyChangeInput> {
  const errors: FieldError[] = [];
  const from = readerOf(typed, currency, errors);
  const read = policyChangeShape.safeParse({
    replaces: Number(typed.replaces),
    reason: from.text("reason"),
    policy: {
      rates: ratesIn(typed, from),
      rounding: { basis: typed["rounding.basis"], halves: typed["rounding.halves"] },
      fees: feesIn(from),
      cardFee: cardFeeIn(from),
      loss: lossIn(from),
      payout: payoutIn(typed, from),
    },
  });
  if (read.success && errors.length === 0) return ok(read.data);
  return refused(errors, read.success ? [] : read.error.issues);
}

function readerOf(typed: Typed, currency: string, errors: FieldError[]): Reader {
  const keep = <T>(read: Result<T>): T | undefined => {
    if (read.ok) return read.value;
    errors.push(...read.problem.errors);
    return undefined;
  };
  const text = (field: string) => typed[field] ?? "";
  return {
    text,
    rate: (field) => keep(parseRate(text(field), field)),
    money: (field) => keep(parseMoney(text(field), currency, field)),
    hours: (field) => keep(parseHours(text(field), field)),
    or: (empty, field, read) => (text(field) === "" ? empty : read(field)),
  };
}

function ratesIn(typed: Typed, from: Reader) {
  const classes = filledRows(typed, "rates.classes");
  const codes = classes.map((at) => from.text(`${at}.code`));
  return {
    ordinary: from.rate("rates.ordinary"),
    visitor: from.or(null, "rates.visitor", from.rate),
    committee: from.or(null, "rates.committee", from.rate),
    classes: classes.map((at, index) => {
      const name = from.text(`${at}.name`);
      codes[index] ||= codeOf(name, codes);
      return { code: codes[index], name, rate: from.rate(`${at}.rate`) };
    }),
    kinds: filledRows(typed, "rates.kinds").map((at) => ({
      kind: from.text(`${at}.kind`),
      rate: from.rate(`${at}.rate`),
      visitorsToo: from.text(`${at}.visitorsToo`) === "yes",
    })),
    hours: filledRows(typed, "rates.hours").map((at) => ({
      fromMinutes: from.hours(`${at}.fromMinutes`),
      rate: from.rate(`${at}.rate`),
    })),
  };
}

const feesIn = (from: Reader) => ({
  entry: from.or(0, "fees.entry", from.money),
  firstEntry: from.or(null, "fees.firstEntry", from.money),
  late: from.or(0, "fees.late", from.money),
  lateFor: from.text("fees.lateFor"),
  missedShift: from.or(0, "fees.missedShift", from.money),
});

/** A fixed amount counts in one way alone; elsewhere it would be a figure that nobody sees. */
function cardFeeIn(from: Reader) {
  const way = from.text("cardFee.way");
  const fixed = from.or(0, "cardFee.fixed", from.money);
  const rate = from.or(0, "cardFee.rate", from.rate);
  return { way, rate, fixed: way === "charged" || fixed === undefined ? fixed : 0 };
}

function lossIn(from: Reader) {
  const rule = from.text("loss.rule");
  if (rule !== "capped") return { rule };
  return { rule, cap: from.money("loss.cap"), aboveCap: from.rate("loss.aboveCap") };
}

const payoutIn = (typed: Typed, from: Reader) => ({
  minimum: from.or(0, "payout.minimum", from.money),
  tenders: filledRows(typed, "payout.tenders").map((at) => ({
    method: from.text(`${at}.method`),
    upTo: from.or(null, `${at}.upTo`, from.money),
  })),
});

/** What a reader refused names its field already; the shape would only say it is missing. */
function refused(errors: FieldError[], issues: { path: PropertyKey[]; message: string }[]) {
  const named = new Set(errors.map(({ field }) => field));
  const others = issues
    .map(({ path, message }) => ({ field: onForm(path.join(".")), message }))
    .filter(({ field }) => !named.has(field));
  const detail = "Nothing was recorded yet. What you typed is still here.";
  return { ok: false as const, problem: problem("invalid-input", detail, [...errors, ...others]) };
}

/** The form has no field for the code of a class and none for the policy as a whole. */
export const onForm = (field: string): string =>
  field === "policy"
    ? "rates.ordinary"
    : field.replace(/^policy\./, "").replace(/(classes\.\d+)\.code$/, "$1.name");
