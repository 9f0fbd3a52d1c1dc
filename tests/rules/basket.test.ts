import { describe, expect, test } from "vitest";
import { type BasketLine, checkBasket, mostLines } from "../../src/rules/basket.ts";
import { basketLine as line } from "./basket-support.ts";

const untagged = (change: Partial<BasketLine> = {}) =>
  line("loose", 500, 1, { kind: "untagged", tag: "", itemId: undefined, ...change });

describe("what is refused, and where", () => {
  test.each<[string, BasketLine[], string[]]>([
    ["no lines", [], ["lines"]],
    ["no pieces", [line("a", 500, 0)], ["lines.0.quantity"]],
    ["half a piece", [line("a", 500, 0.5)], ["lines.0.quantity"]],
    ["no price", [line("a", 500), line("b", 0)], ["lines.1.unitPrice"]],
    ["the same item twice", [line("a", 500), line("b", 5), line("a", 500)], ["lines.2.key"]],
    ["an endless amount", [line("a", 900_000_000_000, 2)], ["lines.0.quantity"]],
    [
      "an endless basket",
      Array.from({ length: mostLines + 1 }, (_, number) => line(`${number}`, 1)),
      ["lines"],
    ],
    ["a nameless piece", [untagged({ description: " " })], ["lines.0.description"]],
    [
      "a card number for a piece",
      [untagged({ description: "4111 1111 1111 1111" })],
      ["lines.0.description"],
    ],
    [
      "a price that the tag does not say",
      [line("a", 500, 1, { printedPrice: 400, priceReason: "Old list" })],
      ["lines.0.unitPrice"],
    ],
    [
      "a corrected price without a reason",
      [line("a", 500, 1, { printedPrice: 500, priceReason: " " })],
      ["lines.0.priceReason"],
    ],
    [
      "a card number for a reason",
      [line("a", 500, 1, { printedPrice: 500, priceReason: "4111111111111111" })],
      ["lines.0.priceReason"],
    ],
  ])("%s", (_, lines, fields) => {
    expect(checkBasket(lines).map(({ field }) => field)).toEqual(fields);
  });

  test("a second line of the same thing is told where the first stands", () => {
    const goods = () => line("bag", 500, 1, { kind: "goods", tag: "", goodsId: "bag" });
    expect(checkBasket([line("a", 1), line("b", 1), line("b", 1)])).toMatchObject([
      { message: expect.stringContaining("This tag is already on line 2") },
    ]);
    expect(checkBasket([goods(), goods()])).toMatchObject([
      { message: expect.stringContaining("This line is already on line 1") },
    ]);
  });
});

test("every kind of line is taken, up to the limits", () => {
  const lines = [
    line("a", 1_000_000_000_000),
    untagged(),
    line("bag", 100, 3, { kind: "goods", tag: "", goodsId: "bag", itemId: undefined }),
    line("gift", 77, 1, { kind: "donation", tag: "", description: "", itemId: undefined }),
    line("b", 400, 1, { printedPrice: 400, priceReason: "The tag says so" }),
  ];
  expect(checkBasket(lines)).toEqual([]);
  const full = Array.from({ length: mostLines }, (_, number) => line(`${number}`, 1));
  expect(checkBasket(full)).toEqual([]);
});
