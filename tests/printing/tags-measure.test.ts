import { describe, expect, test } from "vitest";
import { barWidths } from "../../src/printing/bar-code.ts";
import {
  type Cell,
  cells,
  labelsOn,
  paperOf,
  tagStockNames as stockNames,
  stocks,
} from "../../src/printing/stock.ts";
import { printTags } from "../../src/printing/tags.ts";
import { boxesOf, openPdf, type PrintedPage, pagesOf, textsOf } from "../support/pdf.ts";
import { guild, sampleTags } from "./samples.ts";

/** A tenth of a millimetre, and room for the last digit of the reader's 32-bit figures. */
const TENTH = 0.1;
const POINT = 25.4 / 72;

/** Module widths: 0.33 and 0.25 mm, on rolls three and two dots of 203 to the inch. */
const ON_SHEETS = [0.33, 0.25];
const ON_ROLLS = [(3 * 25.4) / 203, (2 * 25.4) / 203];
/** These set everything in one column, with the bars in its middle. */
const stacked = new Set<string>(["hang-tag", "roll-58"]);

/** Paper to the right of the clear part that every label has: what its inset leaves. */
const insetOf = (stock: (typeof stockNames)[number]): number =>
  Math.min(...cells(stocks[stock]).map(({ x, width, clear }) => x + width - clear.right));

/** The first bar of code set C is two modules wide. */
const moduleOf = (bars: readonly { width: number }[], [first]: readonly number[]): number =>
  bars[0]!.width / first!;

const inside = (cell: Cell, x: number, y: number): boolean =>
  x >= cell.x && x < cell.x + cell.width && y >= cell.y && y < cell.y + cell.height;

async function sheet(stock: (typeof stockNames)[number], digits: 8 | 10): Promise<PrintedPage> {
  const tags = sampleTags(labelsOn(stocks[stock]), digits);
  const [page] = await pagesOf(await printTags(tags, { ...guild, stock, startAt: 1 }));
  return page!;
}

describe.each(stockNames)("on %s", (stock) => {
  const places = cells(stocks[stock]);

  test("the paper has its exact size", async () => {
    const page = await sheet(stock, 8);
    const [, , width, height] = page.view;
    expect(Math.abs(width! * POINT - paperOf(stocks[stock]).width)).toBeLessThan(0.01);
    expect(Math.abs(height! * POINT - paperOf(stocks[stock]).height)).toBeLessThan(0.01);
  });

  test.each([8, 10] as const)(
    "the bars of %i digits stand to a tenth of a millimetre",
    async (digits) => {
      const boxes = await boxesOf(await sheet(stock, digits));
      const tags = sampleTags(places.length, digits);
      places.forEach((cell, index) => {
        const bars = boxes.filter(({ x, y }) => inside(cell, x, y));
        const widths = barWidths(tags[index]!.tag);
        expect(bars).toHaveLength((widths.length + 1) / 2);
        const module = moduleOf(bars, widths);
        const allowed = stocks[stock].media.kind === "roll" ? ON_ROLLS : ON_SHEETS;
        expect(allowed.some((width) => Math.abs(width - module) < 0.001)).toBe(true);
        const total = widths.reduce((sum, width) => sum + width, 0) * module;
        const { clear } = cell;
        const middle = (clear.left + clear.right + total) / 2;
        const beside = Math.min(clear.right, clear.right + insetOf(stock) - 10 * module);
        let x = (stacked.has(stock) ? middle : beside) - total;
        widths.forEach((width, place) => {
          if (place % 2 === 0) {
            const bar = bars[place / 2]!;
            expect(Math.abs(bar.x - x)).toBeLessThan(TENTH);
            expect(Math.abs(bar.width - width * module)).toBeLessThan(0.01);
            expect(bar.height).toBeGreaterThan(8);
          }
          x += width * module;
        });
      });
    },
  );

  test.each([8, 10] as const)(
    "words of tags with %i digits stay in the clear part",
    async (digits) => {
      const texts = await textsOf(await sheet(stock, digits));
      expect(texts.length).toBeGreaterThan(places.length * 4);
      for (const { text, x, baseline, width, size } of texts) {
        const cell = places.find((place) => inside(place, x, baseline - 0.1));
        expect(cell, text).toBeDefined();
        const { clear } = cell!;
        expect(x, text).toBeGreaterThan(clear.left - 0.05);
        expect(x + width, text).toBeLessThan(clear.right + 0.05);
        expect(baseline - 0.73 * size * POINT, text).toBeGreaterThan(clear.top - 0.05);
        expect(baseline, text).toBeLessThan(clear.bottom + 0.05);
        expect(size, text).toBeGreaterThanOrEqual(6);
      }
    },
  );

  test("no words come into the quiet zones or onto the bars", async () => {
    const page = await sheet(stock, 10);
    const texts = await textsOf(page);
    const boxes = await boxesOf(page);
    for (const cell of places) {
      const bars = boxes.filter(({ x, y }) => inside(cell, x, y));
      const quiet = 10 * moduleOf(bars, [2]);
      const left = bars[0]!.x - quiet;
      const right = bars.at(-1)!.x + bars.at(-1)!.width + quiet;
      expect(left).toBeGreaterThan(cell.x);
      expect(right).toBeLessThan(cell.x + cell.width + 0.01);
      const { y: top, height } = bars[0]!;
      const near = texts.filter(
        ({ x, baseline, width, size }) =>
          inside(cell, x, baseline - 0.1) &&
          x + width > left + 0.01 &&
          x < right &&
          baseline > top &&
          baseline - 0.73 * size * POINT < top + height,
      );
      expect(near.map(({ text }) => text)).toEqual([]);
    }
  });

  test("the number and the price of every tag are printed whole", async () => {
    const texts = await textsOf(await sheet(stock, 8));
    sampleTags(places.length).forEach((tag, index) => {
      const own = texts.filter(({ x, baseline }) => inside(places[index]!, x, baseline - 0.1));
      const words = own.map(({ text }) => text);
      expect(words).toContain(tag.shownTag);
      expect(words).toContain(tag.price);
      const price = own.find(({ text }) => text === tag.price)!;
      expect(price.size).toBe(Math.max(...own.map(({ size }) => size)));
    });
  });
});

test("print dialogs are asked not to scale", async () => {
  const bytes = await printTags(sampleTags(1), { ...guild, stock: "letter-30", startAt: 1 });
  const preferences = await (await openPdf(bytes)).getViewerPreferences();
  expect(preferences).toMatchObject({ PrintScaling: "None" });
});
