import type { TillSceneShown } from "../../../contract/till-device.ts";
import { type CashRounding, cashSteps } from "../../../rules/cash-rounding.ts";
import { dayIn } from "../../../rules/day.ts";
import { markdownAt } from "../../../rules/markdown-time.ts";
import type { Minor } from "../../../rules/money.ts";
import { type ReceiptTerms, type ReceiptTotals, totalsOf } from "../../../rules/receipt.ts";
import { cashPart } from "../../../rules/tender.ts";
import type { Basket } from "./basket.ts";

/** What holds for a basket that is sold at this moment. */
export const termsAt = (scene: TillSceneShown, exemption: string, now: Date): ReceiptTerms => ({
  tax: scene.sale.tax,
  day: dayIn(now, scene.guild.timeZone),
  exempt: exemption !== "",
  markdownRate: markdownAt(scene.sale, now.getTime()),
});

export function cashRule({ sale }: TillSceneShown): CashRounding {
  const step = cashSteps.find((known) => known === sale.cashStep);
  if (!step) throw new RangeError(`Cash cannot be rounded to ${sale.cashStep}`);
  return { step, fives: sale.cashFives };
}

export const totalsAt = (scene: TillSceneShown, basket: Basket, now: Date): ReceiptTotals =>
  totalsOf(basket.lines, termsAt(scene, basket.exemption, now));

/** What a basket asks of the buyer, with what has been taken so far. */
export interface Due {
  totals: ReceiptTotals;
  /** The value of what comes back that pays for what is bought. */
  exchanged: Minor;
  /** What money has to pay, before cash is rounded; below zero it goes to the buyer. */
  due: Minor;
  /** Still to pay; below zero it is the change. With cash taken it is the rounded rest. */
  rest: Minor;
  /** What cash would have to pay of the rest, in coins that are in use. */
  cashRest: Minor;
  /** What cash brings in above (or below) what is exactly due. */
  rounding: Minor;
}

export function dueAt(scene: TillSceneShown, basket: Basket, now: Date): Due {
  const totals = totalsAt(scene, basket, now);
  const worth = basket.back?.worth ?? 0;
  const due = totals.total - worth;
  const cash = basket.tenders.find(({ kind }) => kind === "cash");
  const part = cashPart(basket.tenders, due, cashRule(scene));
  return {
    totals,
    exchanged: Math.min(worth, totals.total),
    due,
    rest: cash ? part.due - cash.amount : part.left,
    cashRest: part.due - (cash?.amount ?? 0),
    rounding: part.rounding,
  };
}
