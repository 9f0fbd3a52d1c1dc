import fc from "fast-check";
import { expect, test } from "vitest";
import { dividedBy, fraction, isLess, minus, plus } from "../../../src/rules/fraction.ts";
import type { Cuts } from "../../../src/rules/price/cuts.ts";
import { cardFeeAt, guildPartAt } from "../../../src/rules/price/cuts.ts";
import { type PieceParts, pieceCost } from "../../../src/rules/price/piece-cost.ts";
import { leftAt, payAt, priceFor, verdictAt } from "../../../src/rules/price/price-for.ts";
import { shownAt } from "../../../src/rules/price/price-rows.ts";

const parts: fc.Arbitrary<PieceParts> = fc.record({
  materials: fc
    .tuple(fc.integer({ min: 0, max: 500_000 }), fc.integer({ min: 1, max: 97 }))
    .map(([top, bottom]) => fraction(top, bottom)),
  notions: fc.integer({ min: 0, max: 5_000 }),
  overhead: fc.integer({ min: 0, max: 5_000 }),
  overheadRate: fc.integer({ min: 0, max: 100_000 }),
  entryFee: fc
    .tuple(fc.integer({ min: 0, max: 5_000 }), fc.integer({ min: 1, max: 60 }))
    .map(([top, bottom]) => fraction(top, bottom)),
  minutes: fc
    .tuple(fc.integer({ min: 1, max: 6_000 }), fc.integer({ min: 1, max: 30 }))
    .map(([top, bottom]) => fraction(top, bottom)),
  wage: fc.integer({ min: 0, max: 10_000 }),
  sellOfTen: fc.integer({ min: 1, max: 10 }),
});
const cuts: fc.Arbitrary<Cuts> = fc.record({
  rate: fc.integer({ min: 0, max: 60_000 }),
  card: fc.record({
    way: fc.constantFrom("guild", "price", "charged", "before-share"),
    rate: fc.integer({ min: 0, max: 10_000 }),
    fixed: fc.integer({ min: 0, max: 100 }),
  }),
  tax: fc.integer({ min: 0, max: 25_000 }),
});
const step = fc.constantFrom(1, 5, 25, 100, 500);
const most = Number.MAX_SAFE_INTEGER;
const anHour = (piece: PieceParts) => fraction(piece.wage);

test("the tag's price reaches the wanted pay, and one step lower does not", () => {
  fc.assert(
    fc.property(parts, cuts, step, (piece, off, by) => {
      const cost = pieceCost(piece);
      const priced = priceFor(cost, off, { step: by, most });
      if (typeof priced === "string") throw new Error(priced);
      expect(priced.tag % by).toBe(0);
      expect(isLess(payAt(priced.tag, cost, off)!, anHour(piece))).toBe(false);
      expect(verdictAt(priced.tag, cost, off)).toBe("pays");
      if (priced.tag === 0) return;
      expect(isLess(payAt(priced.tag - by, cost, off)!, anHour(piece))).toBe(true);
      expect(verdictAt(priced.tag - by, cost, off)).toMatch(/^below-/);
    }),
  );
});

test("pay grows with the price and falls with the guild's percentage", () => {
  const price = fc.integer({ min: 0, max: 1_000_000 });
  const more = fc.integer({ min: 1, max: 50_000 });
  fc.assert(
    fc.property(parts, cuts, price, more, (piece, off, at, grown) => {
      const cost = pieceCost(piece);
      const pay = payAt(at, cost, off)!;
      expect(isLess(pay, payAt(at + grown, cost, off)!)).toBe(true);
      const dearer = { ...off, rate: off.rate + 1 };
      expect(isLess(pay, payAt(at, cost, dearer)!)).toBe(false);
      if (at > 0) expect(isLess(payAt(at, cost, dearer)!, pay)).toBe(true);
    }),
  );
});

test("every coin of a price is somebody's, exactly and as it is shown", () => {
  fc.assert(
    fc.property(parts, cuts, fc.integer({ min: 1, max: 9_999_999 }), (piece, off, price) => {
      const cost = pieceCost(piece);
      const others = plus(guildPartAt(price, off), cardFeeAt(price, off));
      expect(plus(leftAt(price, off), others)).toEqual(fraction(price));
      const { guild, cardFee, left, pay } = shownAt(price, cost, off);
      expect(guild + cardFee + left).toBe(price);
      const exact = payAt(price, cost, off)!;
      expect(isLess(exact, fraction(pay!))).toBe(false);
      expect(isLess(exact, fraction(pay! + 1))).toBe(true);
    }),
  );
});

test("where fewer sell, those that do carry the cost and the work of all", () => {
  fc.assert(
    fc.property(parts, (piece) => {
      const all = pieceCost({ ...piece, sellOfTen: 10 });
      const some = pieceCost(piece);
      const ratio = fraction(10, piece.sellOfTen);
      expect(dividedBy(some.cost, ratio)).toEqual(all.cost);
      expect(dividedBy(some.minutes, ratio)).toEqual(all.minutes);
      expect(minus(some.cost, some.unsold)).toEqual(all.cost);
      expect(all.unsold).toEqual(fraction(0));
    }),
  );
});
