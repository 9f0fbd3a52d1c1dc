import type { TillSceneShown } from "../../../contract/till-device.ts";
import { looksLikeCardNumber } from "../../../rules/card-number.ts";
import { parseMoney } from "../../../rules/currency.ts";
import { ok, type Result, refuseField } from "../../../rules/problem.ts";
import { checkTenders, type TenderInput, type TenderKind } from "../../../rules/tender.ts";
import type { Basket } from "./basket.ts";
import { cashRule, type Due } from "./figures.ts";

/** The words beside the two fields of each way to pay; no second field where it is empty. */
export const tenderFields: Record<TenderKind, { amount: string; reference: string }> = {
  cash: { amount: "Cash that the buyer hands over", reference: "" },
  cheque: { amount: "Amount of the cheque", reference: "Number of the cheque" },
  card: {
    amount: "Amount taken by the card terminal",
    reference: "Reference on the terminal's slip",
  },
  other: { amount: "Amount", reference: "What it is" },
};

export const noCardNumbers =
  "This looks like a card number, which must not be typed here. Take it out.";

/** Reads what was typed for one way of paying, or says which field has to change. */
export function readTender(
  kind: TenderKind,
  typed: { amount: string; reference: string },
  due: Due,
  currency: string,
  money: (amount: number) => string,
): Result<TenderInput> {
  if (looksLikeCardNumber(typed.amount)) return refuseField("amount", noCardNumbers);
  const amount = parseMoney(typed.amount, currency);
  if (!amount.ok) return amount;
  const roundsAway = kind === "cash" && due.cashRest <= 0;
  if (amount.value === 0 && !roundsAway) return refuseField("amount", "Type an amount above zero.");
  if (kind !== "cash" && amount.value > due.rest)
    return refuseField("amount", `Only ${money(due.rest)} is left to pay.`);
  const reference = typed.reference.trim().slice(0, 60);
  if (looksLikeCardNumber(reference)) return refuseField("reference", noCardNumbers);
  return ok({ kind, amount: amount.value, ...(reference ? { reference } : {}) });
}

/** Why the basket cannot be paid yet, in words; undefined when everything fits. */
export function notReady(basket: Basket, scene: TillSceneShown, due: Due): string | undefined {
  if (basket.lines.length === 0) return "Add at least one piece.";
  if (due.due <= 0) return undefined;
  return checkTenders(basket.tenders, due.due, cashRule(scene))[0]?.message;
}

/** "In cash 10.25: rounded by 0.02, since the smallest coin is 0.05", or nothing. */
export function roundingWords(
  rounding: number,
  cashRest: number,
  step: number,
  money: (amount: number) => string,
): string {
  if (rounding === 0) return "";
  const way = rounding > 0 ? "up" : "down";
  return `In cash ${money(cashRest)}: rounded ${way} by ${money(Math.abs(rounding))}, because the smallest coin is ${money(step)}.`;
}
