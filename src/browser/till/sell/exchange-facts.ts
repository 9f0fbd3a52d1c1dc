import type { TillSceneShown } from "../../../contract/till-device.ts";
import { ok, type Result } from "../../../rules/problem.ts";
import type { Basket } from "./basket.ts";
import { dueAt } from "./figures.ts";
import { type Return, returnFact, tendersBack } from "./reversal-fact.ts";
import { type Seller, saleFact, type Unnumbered } from "./sale-fact.ts";

/**
 * An exchange in one go: a return and a sale that name each other. What they have in common is
 * the tender "exchange" on both; only the difference is paid or given back in money.
 */
export function exchangeFacts(
  basket: Basket & { back: NonNullable<Basket["back"]> },
  wanted: Return,
  seller: Seller,
  scene: TillSceneShown,
  now: Date,
  newId: () => string,
): Result<[Unnumbered, Unnumbered]> {
  const { exchanged, due } = dueAt(scene, basket, now);
  const returnId = newId();
  const money =
    due < 0 ? tendersBack(basket.back.backBy, due, scene) : { tenders: [], rounding: 0 };
  const exchange = { kind: "exchange" as const, amount: 0 - exchanged, reference: "" };
  const back = returnFact(
    wanted,
    { tenders: [exchange, ...money.tenders], rounding: money.rounding },
    { id: returnId, seller, now, newId },
    basket.id,
  );
  if (!back.ok) return back;
  return ok([back.value, saleFact(basket, seller, scene, now, returnId)]);
}
