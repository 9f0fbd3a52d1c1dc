import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { total } from "../../../src/rules/money.ts";
import {
  type CardFeePolicy,
  type CardLine,
  expectedCardFee,
  shareCardFee,
} from "../../../src/rules/policy/card-fee.ts";
import { cardPaidParts } from "../../../src/rules/policy/card-paid.ts";
import { books, policies } from "./support.ts";

const line = (receiptId: string, price: number, tax = 0, donated = false): CardLine => ({
  ...{ receiptId, donated, card: { price, tax } },
});
const byPrice: CardFeePolicy = { way: "price", rate: 2_900, fixed: 0 };
const asCharged: CardFeePolicy = { way: "charged", rate: 3_000, fixed: 30 };

describe("a card's part of a receipt", () => {
  test("is spread over prices and taxes by largest remainder", () => {
    // 20.00 of 50.03 (46.76 and tax 3.27): 18.69 and 1.31, worked out with exact fractions.
    expect(cardPaidParts(2000, [{ price: 4676, tax: 327 }])).toEqual([{ price: 1869, tax: 131 }]);
    expect(cardPaidParts(5003, [{ price: 4676, tax: 327 }])).toEqual([{ price: 4676, tax: 327 }]);
    expect(cardPaidParts(0, [{ price: 0, tax: 0 }])).toEqual([{ price: 0, tax: 0 }]);
  });

  test("cannot be more than the receipt or less than nothing", () => {
    expect(() => cardPaidParts(101, [{ price: 100, tax: 0 }])).toThrow("cannot pay");
    expect(() => cardPaidParts(-1, [{ price: 100, tax: 0 }])).toThrow("cannot pay");
  });

  test("adds up and never pays more of a line than it costs", () => {
    const coins = fc.integer({ min: 0, max: 99_999 });
    const lines = fc.array(fc.record({ price: coins, tax: coins }), { minLength: 1, maxLength: 8 });
    fc.assert(
      fc.property(lines, fc.integer({ min: 0, max: 100 }), (drawn, percent) => {
        const whole = total(drawn.flatMap(({ price, tax }) => [price, tax]));
        const card = Math.floor((whole * percent) / 100);
        const parts = cardPaidParts(card, drawn);
        expect(total(parts.flatMap(({ price, tax }) => [price, tax]))).toBe(card);
        for (const [index, { price, tax }] of parts.entries()) {
          expect(price).toBeLessThanOrEqual(drawn[index]!.price);
          expect(tax).toBeLessThanOrEqual(drawn[index]!.tax);
        }
      }),
    );
  });
});

describe("the fee to be expected", () => {
  test("is the rate of the prices, rounded once", () => {
    // 2.9 % of 110.50 is 3.2045; exact decimals by an independent script.
    expect(expectedCardFee([line("a", 6800), line("b", 4250), line("c", 0)], byPrice)).toBe(320);
  });

  test("is charged on price and tax for each receipt, with the fixed amount", () => {
    // 3 % of 66.96 is 2.0088 and of 10.80 is 0.324; each receipt 0.30 on top. By hand.
    const lines = [line("a", 6200, 496), line("b", 600, 48), line("b", 400, 32), line("c", 0)];
    expect(expectedCardFee(lines, asCharged)).toBe(201 + 30 + 32 + 30);
  });
});

describe("a fee is spread", () => {
  test("over what cards paid, by largest remainder", () => {
    // Largest remainder worked out with exact fractions; rounding each half up would give 7.30.
    const lines = [12500, 0, 8000, 6250, 1725].map((price, index) => line(`${index}`, price));
    const { perLine, byGuild } = shareCardFee(731, lines, byPrice);
    expect(perLine).toEqual([321, 0, 205, 161, 44]);
    expect(byGuild).toBe(0);
  });

  test("over receipts with their fixed amounts first, and then over their lines", () => {
    const lines = [line("a", 6200, 496), line("b", 600, 48), line("b", 400, 32), line("c", 0)];
    expect(shareCardFee(293, lines, asCharged).perLine).toEqual([231, 37, 25, 0]);
    // Without a fixed amount a fee of 2.33 falls 66.96 : 6.48 : 4.32, by hand.
    const bare = { ...asCharged, fixed: 0 };
    expect(shareCardFee(233, lines, bare).perLine).toEqual([201, 19, 13, 0]);
  });

  test("and stays with the guild where it bears it, for gifts, and where no card paid", () => {
    const guild = { ...byPrice, way: "guild" as const };
    const parts = (lines: CardLine[], policy: CardFeePolicy) => {
      const { byGuild, perLine } = shareCardFee(10, lines, policy);
      return [byGuild, ...perLine];
    };
    expect(parts([line("a", 100)], guild)).toEqual([10, 0]);
    expect(parts([line("a", 300), line("b", 100, 0, true)], byPrice)).toEqual([2, 8, 0]);
    expect(parts([line("a", 0)], byPrice)).toEqual([10, 0]);
    expect(parts([line("a", 0)], asCharged)).toEqual([10, 0]);
  });

  test("unless it is below zero or its rate is none", () => {
    expect(() => shareCardFee(-1, [], byPrice)).toThrow("Not a card fee");
    expect(() => shareCardFee(1, [], { ...byPrice, rate: -1 })).toThrow("Not a card fee");
  });
});

test("the parts sum to the whole, and only what a card paid bears any", () => {
  fc.assert(
    fc.property(books, policies, fc.nat(5_000), ({ lines }, { cardFee }, given) => {
      const expected = expectedCardFee(lines, cardFee);
      for (const whole of [given, expected]) {
        const { byGuild, perLine } = shareCardFee(whole, lines, cardFee);
        expect(byGuild + total(perLine)).toBe(whole);
        for (const [index, part] of perLine.entries()) {
          const { donated, card } = lines[index]!;
          expect(part).toBeGreaterThanOrEqual(0);
          if (cardFee.way === "guild" || donated || card.price + card.tax === 0)
            expect(part).toBe(0);
        }
        const borne = lines.some(({ card }) => card.price > 0);
        if (cardFee.way !== "guild" && borne && lines.every(({ donated }) => !donated))
          expect(byGuild).toBe(0);
      }
    }),
  );
});
