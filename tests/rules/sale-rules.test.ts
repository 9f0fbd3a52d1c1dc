import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { checkLimits, checkPrice, checkQuantity } from "../../src/rules/sale-rules.ts";

const rules = { priceStep: 50, priceFloor: 500, currency: "USD" };
const wordsOf = (price: number) => checkPrice(price, rules)[0]?.message ?? "fits";

describe("a price", () => {
  // Common practice of guild sales, no source.
  test.each([
    [500, "fits"],
    [1250, "fits"],
    [0, "above zero"],
    [-500, "above zero"],
    [12.5, "above zero"],
    [450, "The lowest price in this sale is 5.00 USD."],
    [1260, "Prices here go in steps of 0.50 USD. Try 12.50 USD or 13.00 USD."],
    [1_000_000_000, "The highest price we can take is 9999999.00 USD."],
  ])("of %s: %s", (price, message) => {
    expect(wordsOf(price)).toContain(message);
  });

  test("near a floor that is no whole step is only sent upwards", () => {
    const [error] = checkPrice(550, { priceStep: 300, priceFloor: 500, currency: "USD" });
    expect(error!.message).toBe("Prices here go in steps of 3.00 USD. Try 6.00 USD.");
  });

  test("that is refused has fixes that fit", () => {
    const prices = fc.integer({ min: 1, max: 3000 });
    const steps = fc.integer({ min: 1, max: 1000 });
    fc.assert(
      fc.property(
        prices,
        steps,
        fc.integer({ min: 1, max: 2000 }),
        (price, priceStep, priceFloor) => {
          const drawn = { priceStep, priceFloor, currency: "JPY" };
          const [error] = checkPrice(price, drawn);
          for (const fix of error?.message.split("Try ")[1]?.match(/\d+/g) ?? [])
            expect(checkPrice(Number(fix), drawn)).toEqual([]);
        },
      ),
    );
  });

  test("names the field it was asked for", () => {
    expect(checkPrice(0, rules, "items.2.price")[0]!.field).toBe("items.2.price");
  });
});

test("a quantity is a whole number from 1 to 999", () => {
  expect([1, 12, 999].flatMap((quantity) => checkQuantity(quantity))).toEqual([]);
  for (const quantity of [0, -1, 1.5, 1000, Number.NaN])
    expect(checkQuantity(quantity)).toEqual([
      { field: "quantity", message: "Type a whole number from 1 to 999." },
    ]);
});

test("limits stop the item after the last one, each by its own field", () => {
  const fields = (items: number, ofKind: number) =>
    checkLimits({ items: 20, ofKind: 5 }, { items, ofKind }).map(({ field }) => field);
  expect(fields(19, 4)).toEqual([]);
  expect(fields(20, 4)).toEqual(["items"]);
  expect(fields(10, 5)).toEqual(["kind"]);
  expect(fields(20, 5)).toEqual(["items", "kind"]);
  expect(checkLimits({ items: null, ofKind: null }, { items: 900, ofKind: 900 })).toEqual([]);
  expect(checkLimits({ items: 0, ofKind: null }, { items: 0, ofKind: 0 })).toHaveLength(1);
});
