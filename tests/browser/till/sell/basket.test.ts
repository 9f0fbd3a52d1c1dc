import { expect, test } from "vitest";
import {
  emptyBasket,
  isUntouched,
  withLine,
  without,
  withQuantity,
  withTagPrice,
  withTender,
} from "../../../../src/browser/till/sell/basket.ts";
import { dueAt } from "../../../../src/browser/till/sell/figures.ts";
import { goodsLine, itemLine, untaggedLine } from "../../../../src/browser/till/sell/lines.ts";
import { notReady, readTender, roundingWords } from "../../../../src/browser/till/sell/payment.ts";
import { roundUps } from "../../../../src/browser/till/sell/round-up.ts";
import { canUndo, undone } from "../../../../src/browser/till/sell/undo.ts";
import { idsFrom, noon, pieceOf, sceneOf } from "../../../support/till-scene.ts";

const newId = idsFrom();
const empty = emptyBasket(newId(), noon);
const scarf = itemLine(pieceOf(1), newId());
const mugs = itemLine(pieceOf(2, { onFloor: 3, entered: 4, price: 900 }), newId());
const money = (amount: number) => `${amount}`;

test("a stack is sold up to what stands on the floor, one piece stays one", () => {
  const two = withLine(withLine(empty, mugs), mugs);
  expect(two.lines).toMatchObject([{ quantity: 2, most: 3 }]);
  expect(withQuantity(two, mugs.key, 9).lines[0]?.quantity).toBe(3);
  expect(withQuantity(two, mugs.key, 0).lines[0]?.quantity).toBe(1);
  expect(withLine(withLine(empty, scarf), scarf).lines).toMatchObject([{ quantity: 1 }]);
});

test("a price is corrected to the tag's with a reason, and back to the list's without one", () => {
  const corrected = withTagPrice(withLine(empty, scarf), scarf.key, 4_000, "Older tag");
  expect(corrected.lines[0]).toMatchObject({
    unitPrice: 4_000,
    printedPrice: 4_000,
    priceReason: "Older tag",
  });
  expect(withTagPrice(corrected, scarf.key, 4_500, "").lines[0]?.priceReason).toBeUndefined();
});

test("every step can be taken back without losing what came since", () => {
  const both = withLine(withLine(empty, scarf), mugs);
  const taken = { what: "line", line: scarf, position: 0, words: "", until: 10 } as const;
  expect(undone(without(both, scarf.key), taken)).toEqual(both);
  expect(undone(both, taken)).toEqual(both);
  const cleared = { what: "basket", basket: withLine(empty, scarf), words: "", until: 10 } as const;
  expect(undone(withLine(empty, mugs), cleared).lines).toEqual([scarf, mugs]);
  const fewer = { what: "quantity", key: mugs.key, quantity: 3, words: "", until: 10 } as const;
  expect(undone(both, fewer).lines[1]?.quantity).toBe(3);
  expect([canUndo(taken, 9), canUndo(taken, 10), canUndo(undefined, 0)]).toEqual([
    true,
    false,
    false,
  ]);
});

test("goods with a price add up on one line, those without stand by themselves", () => {
  const [bag, , gift] = sceneOf().goods;
  const bags = withLine(
    withLine(empty, goodsLine(bag!, 200, newId())),
    goodsLine(bag!, 200, newId()),
  );
  expect(bags.lines).toMatchObject([{ quantity: 2, kind: "goods" }]);
  const gifts = [500, 700].reduce(
    (at, amount) => withLine(at, goodsLine(gift!, amount, newId())),
    bags,
  );
  expect(gifts.lines.map(({ unitPrice }) => unitPrice)).toEqual([200, 500, 700]);
  expect(gifts.lines[1]).toMatchObject({ kind: "donation", taxKind: "", donated: true });
});

test("a piece without a tag takes its member from a readable tag number", () => {
  const tag = scarf.tag;
  expect(untaggedLine({ description: "Shawl", price: 100, tag }, newId()).memberNumber).toBe(104);
  expect(untaggedLine({ description: "Shawl", price: 100 }, newId()).memberNumber).toBeUndefined();
});

test("what is left to pay follows the tenders; cash is rounded and nothing else", () => {
  const scene = sceneOf({ cashStep: 5 });
  const basket = withLine(empty, { ...scarf, unitPrice: 1_001 });
  // 10.01 and 0.83 of tax are 10.84: 10.85 in cash.
  expect(dueAt(scene, basket, noon)).toMatchObject({ due: 1_084, rest: 1_084, cashRest: 1_085 });
  const paid = withTender(basket, { kind: "cash", amount: 2_000 });
  expect(dueAt(scene, paid, noon)).toMatchObject({ rest: -915, rounding: 1 });
  const card = withTender(basket, { kind: "card", amount: 1_084 });
  expect(dueAt(scene, card, noon)).toMatchObject({ rest: 0, rounding: 0 });
  expect(roundingWords(1, 1_085, 5, money)).toContain("rounded up by 1");
  expect(roundingWords(0, 1_085, 5, money)).toBe("");
});

test("an exempt buyer pays no tax, and a certificate alone makes a basket touched", () => {
  const basket = { ...withLine(empty, scarf), exemption: "EX-9" };
  expect(dueAt(sceneOf(), basket, noon).due).toBe(4_500);
  expect([isUntouched(empty), isUntouched({ ...empty, exemption: "EX-9" })]).toEqual([true, false]);
});

test("a payment is taken only when it fits, and never a card number", () => {
  const due = dueAt(sceneOf(), withLine(empty, scarf), noon);
  const read = (kind: "cash" | "card", amount: string, reference = "") =>
    readTender(kind, { amount, reference }, due, "USD", money);
  expect(read("card", "48.71", "T-9")).toEqual({
    ok: true,
    value: { kind: "card", amount: 4_871, reference: "T-9" },
  });
  expect(read("cash", "50")).toMatchObject({ ok: true, value: { amount: 5_000 } });
  for (const refused of [
    read("card", "48.72"),
    read("cash", "0"),
    read("card", "10", "4111 1111 1111 1111"),
    read("cash", "4111111111111111"),
  ])
    expect(refused.ok).toBe(false);
  expect(notReady(empty, sceneOf(), dueAt(sceneOf(), empty, noon))).toContain("at least one piece");
  expect(notReady(withLine(empty, scarf), sceneOf(), due)).toContain("does not cover");
});

test("rounding up offers the next whole unit, five and ten, each once", () => {
  expect(roundUps(4_871, "USD")).toEqual([29, 129]);
  expect(roundUps(1_234, "USD")).toEqual([66, 266, 766]);
  expect(roundUps(2_000, "USD")).toEqual([]);
  expect(roundUps(1_250, "JPY")).toEqual([50, 250, 750]);
});
