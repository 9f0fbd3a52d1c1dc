import { v7 } from "uuid";
import { type Basket, emptyBasket } from "./basket.ts";

const keyOf = (tillId: string) => `till/${tillId}`;

/** The basket that this tab left behind, or a new one with the id of the next receipt. */
export function loadBasket(tillId: string): Basket {
  const text = sessionStorage.getItem(keyOf(tillId));
  if (!text) return emptyBasket(v7());
  try {
    return JSON.parse(text) as Basket;
  } catch {
    return emptyBasket(v7());
  }
}

/** Keeps the basket over a reload; a receipt is stored here before it is sent. */
export function keepBasket(tillId: string, basket: Basket): void {
  sessionStorage.setItem(keyOf(tillId), JSON.stringify(basket));
}
