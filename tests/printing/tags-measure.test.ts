import { describe, expect, test } from "vitest";
import { barWidths } from "../../src/printing/bar-code.ts";
import { type Cell, cells, labelsOn, stockNames, stocks } from "../../src/printing/stock.ts";
import { printTags } from "../../src/printing/tags.ts";
import { boxesOf, openPdf, type PrintedPage, pagesOf, textsOf } from "../support/pdf.ts";
import { guild, sampleTags } from "./samples.ts";

/** A tenth of a millimetre, and room for the last digit of the reader's 32-bit figures. */
const TENTH = 0.1;
const POINT = 25.4 / 72;

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
    expect(Math.abs(width! * POINT - stocks[stock].paper.width)).toBeLessThan(0.01);
    expect(Math.abs(height! * POINT - stocks[stock].paper.height)).toBeLessThan(0.01);
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
        const total = widths.reduce((sum, width) => sum + width, 0) * 0.33;
        const right = Math.min(cell.clear.right, cell.x + cell.width - 3.3);
        let x = right - total;
        widths.forEach((width, place) => {
          if (place % 2 === 0) {
            const bar = bars[place / 2]!;
            expect(Math.abs(bar.x - x)).toBeLessThan(TENTH);
            expect(Math.abs(bar.width - width * 0.33)).toBeLessThan(0.01);
            expect(bar.height).toBeGreaterThan(8);
          }
          x += width * 0.33;
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
        expect(x, text).toBeGreaterThan(clear.left);
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
      const left = bars[0]!.x - 3.3;
      const right = bars.at(-1)!.x + bars.at(-1)!.width + 3.3;
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
