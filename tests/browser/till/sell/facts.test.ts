import fc from "fast-check";
import { expect, test } from "vitest";
import {
  type Basket,
  emptyBasket,
  withLine,
  withTender,
} from "../../../../src/browser/till/sell/basket.ts";
import { returnedBefore, storedLines } from "../../../../src/browser/till/sell/coming-back.ts";
import { exchangeFacts } from "../../../../src/browser/till/sell/exchange-facts.ts";
import { dueAt } from "../../../../src/browser/till/sell/figures.ts";
import { goodsLine, itemLine, untaggedLine } from "../../../../src/browser/till/sell/lines.ts";
import {
  returnFact,
  tendersBack,
  voidFact,
  worthOf,
} from "../../../../src/browser/till/sell/reversal-fact.ts";
import { saleFact } from "../../../../src/browser/till/sell/sale-fact.ts";
import type { TillSceneShown } from "../../../../src/contract/till-device.ts";
import { type ReceiptFact, receiptFact } from "../../../../src/contract/till-fact.ts";
import { factAddsUp } from "../../../../src/rules/fact.ts";
import { total } from "../../../../src/rules/money.ts";
import { idsFrom, noon, pieceOf, sceneOf, seller } from "../../../support/till-scene.ts";

const newId = idsFrom();
const runs = { numRuns: Number(process.env.RUNS ?? 300) };
const paper = () => ({ id: newId(), seller, now: noon, newId });

const scenes: fc.Arbitrary<TillSceneShown> = fc
  .record({
    included: fc.boolean(),
    basis: fc.constantFrom("receipt" as const, "line" as const),
    together: fc.boolean(),
    rates: fc.array(fc.integer({ min: 0, max: 25_000 }), { minLength: 1, maxLength: 3 }),
    cashStep: fc.constantFrom(1, 5, 10, 100),
    cashFives: fc.constantFrom("up" as const, "down" as const),
    markdownRate: fc.constantFrom(0, 10_000, 33_333),
  })
  .map(({ included, basis, together, rates, ...sale }) =>
    sceneOf({
      ...sale,
      markdownFrom: "2026-11-25T00:00:00Z",
      tax: {
        ...{ included, basis, together },
        components: rates.map((rate, at) => ({
          code: `c${at}`,
          name: `Tax ${at}`,
          rate,
          rules: [],
        })),
      },
    }),
  );

const prices = fc.integer({ min: 1, max: 50_000 });
const lines = fc.array(
  fc.record({
    price: prices,
    onFloor: fc.integer({ min: 1, max: 4 }),
    allowed: fc.boolean(),
    as: fc.integer({ min: 0, max: 3 }),
  }),
  { minLength: 1, maxLength: 8 },
);

/** A basket with tagged and untagged pieces, bags and gifts, paid in full. */
const baskets = fc
  .record({
    scene: scenes,
    lines,
    exempt: fc.boolean(),
    card: fc.boolean(),
    extra: fc.integer({ min: 0, max: 5_000 }),
  })
  .map(({ scene, lines, exempt, card, extra }) => {
    const open = lines.reduce(
      (basket, { price, onFloor, allowed, as }, at) =>
        withLine(basket, lineFor(as, price, onFloor, allowed, at)),
      { ...emptyBasket(newId(), noon), exemption: exempt ? "EX-9" : "" },
    );
    return { scene, basket: paid(scene, open, card, extra) };
  });

function lineFor(as: number, price: number, onFloor: number, markdown: boolean, at: number) {
  const [bag, , gift] = sceneOf().goods;
  const piece = itemLine(pieceOf(at + 1, { price, onFloor, entered: onFloor, markdown }), newId());
  if (as === 1) return untaggedLine({ description: "Shawl", price }, newId());
  if (as === 2) return goodsLine(bag!, price, newId());
  if (as === 3) return goodsLine(gift!, price, newId());
  return { ...piece, quantity: onFloor };
}

function paid(scene: TillSceneShown, basket: Basket, card: boolean, extra: number): Basket {
  const { due, cashRest } = dueAt(scene, basket, noon);
  if (due <= 0) return basket;
  if (card) return withTender(basket, { kind: "card", amount: due, reference: "T-9" });
  return withTender(basket, { kind: "cash", amount: cashRest + (cashRest === 0 ? 0 : extra) });
}

const numbered = (fact: Omit<ReceiptFact, "number">, number = 7): ReceiptFact =>
  receiptFact.parse({ ...fact, number });

test("any basket that is paid makes a fact that the server takes and that adds up", () => {
  fc.assert(
    fc.property(baskets, ({ scene, basket }) => {
      const fact = numbered(saleFact(basket, seller, scene, noon, null));
      fc.pre(fact.total > 0);
      expect(factAddsUp(fact)).toBe(true);
      expect(fact.total).toBe(dueAt(scene, basket, noon).totals.total);
    }),
    runs,
  );
});

test("calling a receipt off takes back every figure", () => {
  fc.assert(
    fc.property(baskets, ({ scene, basket }) => {
      const sale = numbered(saleFact(basket, seller, scene, noon, null));
      fc.pre(sale.total > 0);
      const back = numbered(voidFact(sale, "Wrong customer", paper()), 8);
      expect(factAddsUp(back)).toBe(true);
      expect(total([sale.total, sale.rounding, back.total, back.rounding])).toBe(0);
    }),
    runs,
  );
});

test("bringing pieces back one by one gives back exactly what was taken, tax by component", () => {
  fc.assert(
    fc.property(baskets, ({ scene, basket }) => {
      const sale = numbered(saleFact(basket, seller, scene, noon, null));
      const past: ReceiptFact[] = [];
      for (const line of sale.lines)
        for (let piece = 0; piece < line.quantity; piece += 1) {
          const wanted = {
            ...{ sale, before: returnedBefore(sale.id, past), goesTo: "floor" as const },
            ...{ returns: [{ lineId: line.id, quantity: 1 }], reason: "Too long" },
          };
          const worth = worthOf(wanted);
          if (!worth.ok) throw new Error(worth.problem.detail);
          const money = tendersBack("cash", worth.value.total, scene);
          const back = returnFact(wanted, money, paper());
          if (!back.ok) throw new Error(back.problem.detail);
          past.push(numbered(back.value, 8 + past.length));
        }
      const sumOf = (figure: "subtotal" | "tax" | "total") =>
        total(past.map((fact) => fact[figure]));
      expect([sumOf("subtotal"), sumOf("tax"), sumOf("total")]).toEqual(
        [sale.subtotal, sale.tax, sale.total].map((figure) => 0 - figure),
      );
      for (const { code, tax, base } of sale.taxes) {
        const gone = past.flatMap(({ taxes }) => taxes.filter((one) => one.code === code));
        expect(total(gone.map((one) => one.tax))).toBe(0 - tax);
        expect(total(gone.map((one) => one.base))).toBe(0 - base);
      }
      expect(past.filter((fact) => fact.total !== 0).every(factAddsUp)).toBe(true);
      const left = storedLines(sale, returnedBefore(sale.id, past));
      expect(left.every(({ quantity, alreadyReturned }) => quantity === alreadyReturned)).toBe(
        true,
      );
    }),
    { numRuns: Math.min(runs.numRuns, 2_000) },
  );
});

test("an exchange is a return and a sale that name each other and meet in one tender", () => {
  fc.assert(
    fc.property(baskets, prices, ({ scene, basket }, price) => {
      const sale = numbered(saleFact(basket, seller, scene, noon, null));
      const returns = [{ lineId: sale.lines[0]!.id, quantity: 1 }];
      const wanted = { sale, before: new Map(), returns, goesTo: "floor" as const, reason: "Size" };
      const worth = worthOf(wanted);
      if (!worth.ok || worth.value.total === 0) return;
      const comingBack = {
        ...{ sale, saleName: "2-0007", before: wanted.before, returns, reason: "Size" },
        ...{ goesTo: wanted.goesTo },
        ...{ worth: 0 - worth.value.total, backBy: "cash" as const },
      };
      const line = untaggedLine({ description: "Shawl", price }, newId());
      const unpaid = { ...withLine(emptyBasket(newId(), noon), line), back: comingBack };
      const next = { ...paid(scene, unpaid, false, 0), back: comingBack };
      const both = exchangeFacts(next, wanted, seller, scene, noon, newId);
      if (!both.ok) throw new Error(both.problem.detail);
      const [back, bought] = both.value.map((fact, at) => numbered(fact, 8 + at));
      expect([back!.exchangeId, bought!.exchangeId]).toEqual([bought!.id, back!.id]);
      expect([factAddsUp(back!), factAddsUp(bought!)]).toEqual([true, true]);
      const exchanged = [back!, bought!].flatMap(({ tenders }) =>
        tenders.filter(({ kind }) => kind === "exchange"),
      );
      expect(total(exchanged.map(({ amount }) => amount))).toBe(0);
    }),
    runs,
  );
});
