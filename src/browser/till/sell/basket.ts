import type { ReceiptFact } from "../../../contract/till-fact.ts";
import type { BasketLine } from "../../../rules/basket.ts";
import type { Minor } from "../../../rules/money.ts";
import type { ReturnInput } from "../../../rules/reversal.ts";
import type { TenderInput, TenderKind } from "../../../rules/tender.ts";
import type { ReturnedBefore } from "./coming-back.ts";

/** One line of the customer at the till; `id` is the id that it has on the receipt. */
export interface TillLine extends BasketLine {
  id: string;
  /** Pieces that can be sold under this line: what stands on the floor, as far as is known. */
  most: number;
  piecesInSet: number;
  listPrice: Minor;
}

/** Pieces that come back while others are bought: the first half of an exchange. */
export interface ComingBack {
  /** The sale itself, since it may be another till's and the basket outlives a reload. */
  sale: ReceiptFact;
  saleName: string;
  /** Pieces of each of its lines that had come back when it was looked up. */
  before: ReturnedBefore;
  returns: ReturnInput[];
  goesTo: "floor" | "member";
  reason: string;
  /** What the pieces are worth, above zero. */
  worth: Minor;
  /** How money is given back when the new pieces cost less. */
  backBy: TenderKind;
}

/** One customer at the till; everything here survives a reload. `id` is the receipt's. */
export interface Basket {
  id: string;
  startedAt: string;
  lines: TillLine[];
  tenders: TenderInput[];
  /** The number of the buyer's certificate; empty for everybody else. */
  exemption: string;
  back?: ComingBack;
}

export const emptyBasket = (id: string, now: Date): Basket => ({
  id,
  startedAt: now.toISOString(),
  lines: [],
  tenders: [],
  exemption: "",
});

export const isUntouched = ({ lines, tenders, exemption, back }: Basket): boolean =>
  lines.length === 0 && tenders.length === 0 && exemption === "" && back === undefined;

export const lineOf = (basket: Basket, key: string): TillLine | undefined =>
  basket.lines.find((line) => line.key === key);

/** Adds a line, or one more piece where the same one stands in the basket already. */
export function withLine(basket: Basket, line: TillLine): Basket {
  const there = lineOf(basket, line.key);
  if (there) return withQuantity(basket, line.key, there.quantity + line.quantity);
  return { ...basket, lines: [...basket.lines, line] };
}

/** Sets how many pieces are sold, from one up to what stands on the floor. */
export const withQuantity = (basket: Basket, key: string, quantity: number): Basket =>
  changed(basket, key, (line) => ({
    ...line,
    quantity: Math.max(1, Math.min(quantity, line.most)),
  }));

/** The tag may be older than the list: its price counts, and the receipt says why. */
export const withTagPrice = (basket: Basket, key: string, price: Minor, reason: string): Basket =>
  changed(basket, key, (line) =>
    price === line.listPrice
      ? { ...line, unitPrice: price, printedPrice: undefined, priceReason: undefined }
      : { ...line, unitPrice: price, printedPrice: price, priceReason: reason },
  );

export const without = (basket: Basket, key: string): Basket => ({
  ...basket,
  lines: basket.lines.filter((line) => line.key !== key),
});

/** Cash stands in one amount, so a second one takes the place of the first. */
export function withTender(basket: Basket, tender: TenderInput): Basket {
  const others = basket.tenders.filter(({ kind }) => kind !== "cash" || tender.kind !== "cash");
  return { ...basket, tenders: [...others, tender] };
}

export const withoutTender = (basket: Basket, index: number): Basket => ({
  ...basket,
  tenders: basket.tenders.filter((_, position) => position !== index),
});

function changed(basket: Basket, key: string, change: (line: TillLine) => TillLine): Basket {
  const lines = basket.lines.map((line) => (line.key === key ? change(line) : line));
  return { ...basket, lines };
}
