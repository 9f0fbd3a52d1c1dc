import { amountText, largestAmount, unitOf } from "./currency.ts";
import { isMinor, type Minor } from "./money.ts";
import type { FieldError } from "./problem.ts";

export const largestQuantity = 999;

/** How a sale prices its items: `priceStep` and `priceFloor` in smallest coins, 1 or more. */
export interface PriceRules {
  priceStep: Minor;
  priceFloor: Minor;
  currency: string;
}

export const highestPrice = (currency: string): Minor => largestAmount * unitOf(currency);

/** What is wrong with the price of one piece in a sale. */
export function checkPrice(
  price: Minor,
  { priceStep, priceFloor, currency }: PriceRules,
  field = "price",
): FieldError[] {
  const words = (amount: Minor) => `${amountText(amount, currency)} ${currency}`;
  const most = highestPrice(currency);
  if (!isMinor(price) || price <= 0) return [{ field, message: "Type a price above zero." }];
  if (price > most) return [{ field, message: `The highest price we can take is ${words(most)}.` }];
  if (price < priceFloor)
    return [{ field, message: `The lowest price in this sale is ${words(priceFloor)}.` }];
  if (price % priceStep === 0) return [];
  const below = price - (price % priceStep);
  const above = below + priceStep;
  const near =
    below >= priceFloor && below > 0 ? `${words(below)} or ${words(above)}` : words(above);
  return [{ field, message: `Prices here go in steps of ${words(priceStep)}. Try ${near}.` }];
}

/** What is wrong with a number of alike pieces under one tag, or of pieces in a set. */
export function checkQuantity(quantity: number, field = "quantity"): FieldError[] {
  if (isMinor(quantity) && quantity >= 1 && quantity <= largestQuantity) return [];
  return [{ field, message: `Type a whole number from 1 to ${largestQuantity}.` }];
}

/** What stops a member from entering one more item: counts leave withdrawn items out. */
export function checkLimits(
  limits: { items: number | null; ofKind: number | null },
  entered: { items: number; ofKind: number },
): FieldError[] {
  const errors: FieldError[] = [];
  if (limits.items !== null && entered.items >= limits.items)
    errors.push({
      field: "items",
      message: `Each member can enter ${limits.items} items in this sale, and all are used.`,
    });
  if (limits.ofKind !== null && entered.ofKind >= limits.ofKind)
    errors.push({
      field: "kind",
      message: `Each member can enter ${limits.ofKind} of this kind, and all are used.`,
    });
  return errors;
}
