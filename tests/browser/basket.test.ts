import { expect, test } from "vitest";
import {
  emptyBasket,
  figuresOf,
  notReady,
  refreshed,
  restOf,
  restored,
  toSend,
  withItem,
  without,
  withoutTender,
  withQuantity,
  withRefusals,
  withTender,
} from "../../src/browser/till/basket.ts";
import { likelyCash } from "../../src/browser/till/notes.ts";

const item = (tag: string, price: number, onFloor = 1) => ({
  itemId: tag,
  tag,
  shownTag: tag,
  memberNumber: 100,
  description: "Scarf",
  size: "",
  price,
  quantity: onFloor,
  onFloor,
  donated: false,
  state: "on-floor" as const,
  sold: null,
});

const start = () => emptyBasket("0198c0de-0000-7000-8000-000000000001");
const two = () => withItem(withItem(start(), item("1", 4_500)), item("2", 900, 3));

test("a second scan of a stack is one piece more, never more than the floor holds", () => {
  let basket = two();
  for (let scan = 0; scan < 5; scan += 1) basket = withItem(basket, item("2", 900, 3));
  expect(basket.lines.map(({ quantity }) => quantity)).toEqual([1, 3]);
  expect(withQuantity(basket, "2", 0).lines[1]!.quantity).toBe(1);
  expect(withItem(basket, item("1", 4_500)).lines[0]!.quantity).toBe(1);
});

test("a line that was taken off comes back to its place, once", () => {
  const basket = two();
  const line = basket.lines[0]!;
  const back = restored(without(basket, "1"), line, 0);
  expect(back.lines.map(({ tag }) => tag)).toEqual(["1", "2"]);
  expect(restored(back, line, 0).lines).toHaveLength(2);
});

test("totals with tax, what is left to pay, and the change", () => {
  // 54.00 at 8.25 % is 4.455, so 4.46 with the half coin rule: 58.46 in all.
  const { total } = figuresOf(two(), 8_250);
  expect(total).toBe(5_846);
  const cheque = withTender(two(), { kind: "cheque", amount: 3_000 });
  expect(restOf(cheque, total)).toBe(2_846);
  expect(notReady(cheque, total)).toContain("does not cover");
  const paid = withTender(cheque, { kind: "cash", amount: 5_000 });
  expect(restOf(paid, total)).toBe(-2_154);
  expect(notReady(paid, total)).toBeUndefined();
  expect(withTender(paid, { kind: "cash", amount: 2_846 }).tenders).toHaveLength(2);
  expect(withoutTender(paid, 0).tenders).toEqual([{ kind: "cash", amount: 5_000 }]);
});

test("a refused line has to come off before anything is sent", () => {
  const paid = withTender(two(), { kind: "card", amount: 5_846 });
  const refused = withRefusals(paid, [{ field: "lines.1.tag", message: "sold at till 2" }]);
  expect(refused.lines[1]!.wrong).toBe("sold at till 2");
  expect(notReady(refused, 5_846)).toContain("Take off 2");
  expect(notReady(start(), 0)).toContain("Add at least one piece");
});

test("a price that changed meanwhile is taken over", () => {
  expect(refreshed(two(), "1", item("1", 5_000)).lines[0]!.price).toBe(5_000);
});

test("sends tags, quantities and tenders under the id of the basket", () => {
  const basket = withTender(two(), { kind: "card", amount: 5_846, reference: "T-1" });
  expect(toSend(basket, "till", 5_846)).toEqual({
    id: basket.receiptId,
    tillId: "till",
    lines: [
      { tag: "1", quantity: 1 },
      { tag: "2", quantity: 1 },
    ],
    tenders: [{ kind: "card", amount: 5_846, reference: "T-1" }],
    total: 5_846,
  });
});

test.each([
  [5_413, 2, [5_413, 5_500, 6_000, 10_000]],
  [10_000, 2, [10_000]],
  [12_345, 2, [12_345, 12_500, 13_000, 14_000, 15_000]],
  [3_200, 0, [3_200, 5_000, 10_000, 20_000, 50_000]],
  [0, 2, []],
])("offers likely cash for %i", (rest, digits, expected) => {
  expect(likelyCash(rest, digits)).toEqual(expected);
});
