import { expect, test } from "vitest";
import { returnedBefore } from "../../../../src/browser/till/sell/coming-back.ts";
import type { ReceiptFact } from "../../../../src/contract/till-fact.ts";

const back = (lineId: string, quantity: number) =>
  ({ reversesId: "sale", lines: [{ reversesLineId: lineId, quantity }] }) as ReceiptFact;

test("pieces count as back when this till or the server says so, and never twice", () => {
  const known = new Map([
    ["scarf", 1],
    ["rug", 2],
    ["towel", 0],
  ]);
  const counts = returnedBefore("sale", [back("scarf", -1), back("towel", -3)], known);
  expect(Object.fromEntries(counts)).toEqual({ scarf: 1, rug: 2, towel: 3 });
  // A line of which nothing came back is not named: a receipt with none can still be voided.
  expect(returnedBefore("sale", [], new Map([["towel", 0]])).size).toBe(0);
});
