import type { ReceiptInput } from "../../contract/receipt.ts";
import type { RecordedShown, TillItemShown } from "../../contract/receipt-shown.ts";
import { type ReceiptTotals, totalsOf } from "../../rules/receipt.ts";
import { checkTenders, type TenderInput } from "../../rules/tender.ts";

/** One tag in the basket, with what the server said about it when it was scanned. */
export interface TillLine {
  itemId: string;
  tag: string;
  shownTag: string;
  description: string;
  memberNumber: number;
  price: number;
  onFloor: number;
  donated: boolean;
  quantity: number;
  /** Why the server would not take this line; it has to come off before the receipt goes on. */
  wrong?: string;
}

/** One customer at the till. Everything here survives a reload of the page. */
export interface Basket {
  receiptId: string;
  lines: TillLine[];
  tenders: TenderInput[];
  phase: "open" | "sending" | "done";
  /** The very content that was sent: it goes out again word for word until it is answered. */
  sent?: ReceiptInput;
  recorded?: RecordedShown;
}

export const emptyBasket = (receiptId: string): Basket => ({
  receiptId,
  lines: [],
  tenders: [],
  phase: "open",
});

export const lineOf = (basket: Basket, tag: string): TillLine | undefined =>
  basket.lines.find((line) => line.tag === tag);

/** Puts a tag into the basket, or one more piece of a stack that is there already. */
export function withItem(basket: Basket, item: TillItemShown): Basket {
  const { itemId, tag, shownTag, description, memberNumber, price, onFloor, donated } = item;
  const there = lineOf(basket, tag);
  if (there) return withQuantity(basket, tag, there.quantity + 1);
  const line = { itemId, tag, shownTag, description, memberNumber, price, onFloor, donated };
  return { ...basket, lines: [...basket.lines, { ...line, quantity: 1 }] };
}

/** Sets how many pieces of a stack are sold, from one up to what stood on the floor. */
export function withQuantity(basket: Basket, tag: string, quantity: number): Basket {
  return changed(basket, tag, (line) => ({
    ...line,
    quantity: Math.max(1, Math.min(quantity, line.onFloor)),
  }));
}

export const without = (basket: Basket, tag: string): Basket => ({
  ...basket,
  lines: basket.lines.filter((line) => line.tag !== tag),
});

/** Puts a line back where it was taken off. */
export const restored = (basket: Basket, line: TillLine, position: number): Basket => ({
  ...basket,
  lines: lineOf(basket, line.tag) ? basket.lines : basket.lines.toSpliced(position, 0, line),
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

/** Prices and floor as the server has them now, line by line. */
export const refreshed = (basket: Basket, tag: string, item: TillItemShown): Basket =>
  changed(basket, tag, (line) => ({ ...line, price: item.price, onFloor: item.onFloor }));

/** Marks what the server refused: its fields are "lines.0.tag" and the like. */
export function withRefusals(
  basket: Basket,
  errors: readonly { field: string; message: string }[],
): Basket {
  const lines = basket.lines.map((line, index) => {
    const error = errors.find(({ field }) => field.startsWith(`lines.${index}.`));
    return error ? { ...line, wrong: error.message } : line;
  });
  return { ...basket, lines };
}

export const figuresOf = ({ lines }: Basket, taxRate: number): ReceiptTotals =>
  totalsOf(
    lines.map(({ price, ...line }) => ({ ...line, memberId: "", unitPrice: price })),
    taxRate,
  );

/** What is still to pay; below zero it is the change. */
export const restOf = (basket: Basket, total: number): number =>
  basket.tenders.reduce((rest, { amount }) => rest - amount, total);

/** Why the receipt cannot be recorded yet, in words; undefined when it can. */
export function notReady(basket: Basket, total: number): string | undefined {
  if (basket.lines.length === 0) return "Add at least one piece.";
  const wrong = basket.lines.find((line) => line.wrong);
  if (wrong) return `Take off ${wrong.shownTag} first.`;
  return checkTenders(basket.tenders, total)[0]?.message;
}

export const toSend = (basket: Basket, tillId: string, total: number): ReceiptInput => ({
  id: basket.receiptId,
  tillId,
  lines: basket.lines.map(({ tag, quantity }) => ({ tag, quantity })),
  tenders: basket.tenders,
  total,
});

function changed(basket: Basket, tag: string, change: (line: TillLine) => TillLine): Basket {
  return {
    ...basket,
    lines: basket.lines.map((line) => (line.tag === tag ? change(line) : line)),
  };
}
