import { expect, test } from "vitest";
import { detailWords, words } from "../../src/pages/audit/words.ts";

const money = { currency: "USD", locale: "en-US" };

test("amounts stand in the guild's money and tags as they are printed", () => {
  const detail = { tag: "10401257", price: 4_500, quantity: 2 };
  expect(detailWords(detail, money)).toBe("Tag: 104-012-57; Price: $45.00; Quantity: 2");
  expect(detailWords({ back: 1_191, name: "3-0004" }, money)).toBe(
    "Money back: $11.91; Name: 3-0004",
  );
});

test("ids and what is empty are left out", () => {
  const detail = { id: "x", saleId: "y", reason: "", refused: [], method: "cheque" };
  expect(detailWords(detail, money)).toBe("Method: cheque");
});

test("several pieces are named by their tags", () => {
  const done = [
    { tag: "10401257", itemId: "a", quantity: 1 },
    { tag: "10600937", itemId: "b", quantity: 3 },
  ];
  expect(detailWords({ done }, money)).toBe("Pieces: 104-012-57 (1), 106-009-37 (3)");
});

test("names of deeds become words", () => {
  expect([words("add-member"), words("firstNumber")]).toEqual(["Add member", "First number"]);
});
