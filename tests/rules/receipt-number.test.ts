import { expect, test } from "vitest";
import { readReceiptNumber, showReceiptNumber } from "../../src/rules/receipt-number.ts";

test.each([
  [1, 1],
  [2, 17],
  [12, 9_999],
  [3, 123_456],
])("till %i, number %i reads back as it is shown", (tillNumber, number) => {
  expect(readReceiptNumber(showReceiptNumber(tillNumber, number))).toEqual({ tillNumber, number });
});

test("is shown with at least four digits and read without them", () => {
  expect(showReceiptNumber(2, 17)).toBe("2-0017");
  expect(readReceiptNumber(" 2 – 17 ")).toEqual({ tillNumber: 2, number: 17 });
});

test.each(["", "17", "104-012-57", "2-", "-17", "2-0017x", "1234-1"])("%j is none", (text) => {
  expect(readReceiptNumber(text)).toBeUndefined();
});
