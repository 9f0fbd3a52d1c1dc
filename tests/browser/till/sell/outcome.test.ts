import { expect, test } from "vitest";
import { emptyBasket } from "../../../../src/browser/till/sell/basket.ts";
import { outcomeOf } from "../../../../src/browser/till/sell/outcome.ts";
import { idsFrom, noon, pieceOf, tagOf } from "../../../support/till-scene.ts";

const newId = idsFrom();
const sold = { till: 3, receipt: "3-0017", at: "2026-11-25T15:42:00Z" };
const pieces = [
  pieceOf(1),
  pieceOf(2, { onFloor: 2, entered: 2, description: "Mug rug" }),
  pieceOf(3, { state: "sold", onFloor: 0, sold }),
  pieceOf(4, { state: "not-checked-in", onFloor: 0 }),
  pieceOf(5, { state: "withdrawn", onFloor: 0 }),
  pieceOf(6, { piecesInSet: 4, description: "Four napkins" }),
];
const reading = {
  find: (tag: string) => pieces.find((piece) => piece.tag === tag),
  tagLength: 8,
  time: () => "10:42",
  newId,
};
const read = (text: string, basket = emptyBasket(newId(), noon)) =>
  outcomeOf(basket, text, reading);

test("a piece on the floor is added, a second time it is here", () => {
  const first = read(tagOf(104, 1));
  expect(first).toMatchObject({ kind: "added", basket: { lines: [{ quantity: 1 }] } });
  const again = read(tagOf(104, 1), first.basket);
  expect(again).toMatchObject({ kind: "here", basket: first.basket });
});

test("a stack counts up to the floor and then says so", () => {
  const two = read(tagOf(104, 2), read(tagOf(104, 2)).basket);
  expect(two).toMatchObject({ kind: "added", basket: { lines: [{ quantity: 2 }] } });
  expect(two.words).toContain("2 of 2 on the floor");
  expect(read(tagOf(104, 2), two.basket)).toMatchObject({ kind: "here" });
});

test("a set is one piece and stays together", () => {
  expect(read(tagOf(104, 6)).words).toContain("a set of 4: it stays together");
});

test("what cannot be sold says where it is, and nothing is added", () => {
  const elsewhere = read(tagOf(104, 3));
  expect(elsewhere).toMatchObject({ kind: "sold", basket: { lines: [] } });
  expect(elsewhere.words).toContain("till 3 at 10:42, receipt 3-0017");
  expect(read(tagOf(104, 4))).toMatchObject({ kind: "not-in", basket: { lines: [] } });
  expect(read(tagOf(104, 5)).words).toContain("taken back by its weaver");
  expect(read(tagOf(104, 77))).toMatchObject({ kind: "unknown", tag: tagOf(104, 77) });
  expect(read("10400199")).toMatchObject({ kind: "misread" });
  expect(read("hello")).toMatchObject({ kind: "misread" });
});

test("a tag is read however it is typed", () => {
  const tag = tagOf(104, 1);
  const typed = `${tag.slice(0, 3)}-${tag.slice(3, 6)} ${tag.slice(6)}`;
  expect(read(typed).kind).toBe("added");
});
