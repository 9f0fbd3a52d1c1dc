import { beforeEach, describe, expect, test } from "vitest";
import { type Cells, livePrice } from "../../../src/browser/price/live-price.ts";
import { fraction } from "../../../src/rules/fraction.ts";
import { pieceCost } from "../../../src/rules/price/piece-cost.ts";
import { shownAt } from "../../../src/rules/price/price-rows.ts";
import { packScene } from "../../../src/rules/price/slider.ts";
import { partsOf } from "../../rules/price/support.ts";

const needs = pieceCost(
  partsOf({ materials: fraction(631), notions: 75, minutes: fraction(150), wage: 1_500 }),
);
const terms = { card: { way: "price", rate: 3_000, fixed: 0 } as const, tax: 8_250 };
const prices = { priceStep: 100, priceFloor: 500, currency: "USD" };
const rates = [30_000, 20_000];

interface Screen {
  number: string;
  slider: [number, string];
  rows: Cells[];
  warnings: readonly string[];
  said: string[];
}
let screen: Screen;
let live: ReturnType<typeof livePrice>;
beforeEach(() => {
  screen = { number: "", slider: [0, ""], rows: [], warnings: [], said: [] };
  live = livePrice({
    scene: packScene({ needs, ...terms, prices, locale: "en-US" }),
    rates,
    setNumber: (text) => {
      screen.number = text;
    },
    setSlider: (price, words) => {
      screen.slider = [price, words];
    },
    showRow: (index, cells) => {
      screen.rows[index] = cells;
    },
    showWarnings: (warnings) => {
      screen.warnings = warnings;
    },
    say: (words) => screen.said.push(words),
  });
});

describe("number and slider", () => {
  test("the slider writes the number and every row", () => {
    live.moved(6_400);
    expect(screen.number).toBe("64.00");
    expect(screen.slider).toEqual([6_400, "$64.00"]);
    // 64.00 less 19.20 and 1.92 leaves 42.88; less 7.06 that is 35.82 for two and a half hours.
    expect(screen.rows).toEqual([
      { left: "$42.88", pay: "$14.32", verdict: "Less than you want" },
      { left: "$49.28", pay: "$16.88", verdict: "Pays what you want" },
    ]);
  });

  test("the number moves the slider and leaves the text to its typist", () => {
    live.typed("64");
    expect(screen.number).toBe("");
    expect(screen.slider).toEqual([6_400, "$64.00"]);
    expect(screen.rows).toHaveLength(2);
  });

  test.each(["", "sixty", "0", "1,234", "-5", "99999999"])(
    "%j is no price yet: everything stays",
    (text) => {
      live.moved(6_400);
      const before = structuredClone(screen);
      live.typed(text);
      expect(screen).toEqual(before);
    },
  );

  test("shows what the server shows, at every price", () => {
    for (let price = 100; price <= 12_000; price += 700) {
      live.moved(price);
      for (const [index, rate] of rates.entries()) {
        const { left, verdict } = shownAt(price, needs, { ...terms, rate });
        expect(screen.rows[index]?.left).toContain(String(Math.abs(left)).slice(0, -2));
        expect(screen.rows[index]?.verdict === "Pays what you want").toBe(verdict === "pays");
      }
    }
  });
});

test("warns of what the sale would not take, and no longer when it would", () => {
  live.typed("64.50");
  expect(screen.warnings).toEqual([
    "Prices here go in steps of 1.00 USD. Try 64.00 USD or 65.00 USD.",
  ]);
  live.typed("65");
  expect(screen.warnings).toEqual([]);
});

test("speaks once the slider rests, for the percentage as it stands", () => {
  live.moved(6_400);
  expect(screen.said).toEqual([]);
  live.rested(6_400);
  expect(screen.said).toEqual(["$64.00: $14.32. Less than you want."]);
});
