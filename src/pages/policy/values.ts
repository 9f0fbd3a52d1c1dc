import { amountText, rateText } from "../../rules/currency.ts";
import type { RatePolicy } from "../../rules/policy/guild-rate.ts";
import type { Policy } from "../../rules/policy/policy.ts";
import { hoursText } from "../../rules/work-hours.ts";
import type { Typed } from "../sales/terms-rows.ts";
import { rowAt } from "./rows.ts";

/** A policy as it stands in the fields of its form. */
export function policyValues(
  { version, policy }: { version: number; policy: Policy },
  currency: string,
): Typed {
  const { rounding, fees, cardFee, loss, payout } = policy;
  const money = (amount: number | null) => (amount ? amountText(amount, currency) : "");
  const values: Typed = {
    replaces: String(version),
    ...ratesValues(policy.rates),
    "rounding.basis": rounding.basis,
    "rounding.halves": rounding.halves,
    "fees.entry": money(fees.entry),
    "fees.firstEntry": fees.firstEntry === null ? "" : amountText(fees.firstEntry, currency),
    "fees.late": money(fees.late),
    "fees.lateFor": fees.lateFor,
    "fees.missedShift": money(fees.missedShift),
    "cardFee.way": cardFee.way,
    "cardFee.rate": cardFee.rate === 0 ? "" : rateText(cardFee.rate),
    "cardFee.fixed": money(cardFee.fixed),
    "loss.rule": loss.rule,
    "payout.minimum": money(payout.minimum),
  };
  if (loss.rule === "capped") {
    values["loss.cap"] = amountText(loss.cap, currency);
    values["loss.aboveCap"] = rateText(loss.aboveCap);
  }
  for (const [index, { method, upTo }] of payout.tenders.entries()) {
    const at = rowAt("payout.tenders", index);
    values[`${at}.method`] = method;
    values[`${at}.upTo`] = upTo === null ? "" : amountText(upTo, currency);
  }
  return values;
}

function ratesValues({ ordinary, visitor, committee, classes, kinds, hours }: RatePolicy): Typed {
  const text = (rate: number | null) => (rate === null ? "" : rateText(rate));
  const values: Typed = {
    "rates.ordinary": text(ordinary),
    "rates.visitor": text(visitor),
    "rates.committee": text(committee),
  };
  const put = (at: string, fields: Typed) => {
    for (const [field, value] of Object.entries(fields)) values[`${at}.${field}`] = value;
  };
  for (const [index, { code, name, rate }] of classes.entries())
    put(rowAt("rates.classes", index), { code, name, rate: text(rate) });
  for (const [index, { kind, rate, visitorsToo }] of kinds.entries())
    put(rowAt("rates.kinds", index), {
      ...{ kind, rate: text(rate), visitorsToo: visitorsToo ? "yes" : "" },
    });
  for (const [index, { fromMinutes, rate }] of hours.entries())
    put(rowAt("rates.hours", index), { fromMinutes: hoursText(fromMinutes), rate: text(rate) });
  return values;
}
