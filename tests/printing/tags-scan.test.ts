import { describe, expect, test } from "vitest";
import { cells, labelsOn, tagStockNames as stockNames, stocks } from "../../src/printing/stock.ts";
import { printTags } from "../../src/printing/tags.ts";
import { pagesOf, readBars, readSquares } from "../support/pdf.ts";
import { guild, plainLabels, sampleTags } from "./samples.ts";

/**
 * Whole sheets become pixels and an independent decoder (ZXing) has to find every bar code. 203
 * and 300 dots per inch are the usual label printers; an office laser is finer.
 */
describe.each(stockNames)("a full sheet of %s", (stock) => {
  const count = labelsOn(stocks[stock]);

  test.each([
    [8, 203],
    [8, 300],
    [10, 203],
    [10, 300],
  ] as const)("with %i digits scans whole at %i dpi", async (digits, dotsPerInch) => {
    const tags = sampleTags(count, digits);
    const pages = await pagesOf(await printTags(tags, { ...guild, stock, startAt: 1 }));
    expect(pages).toHaveLength(1);
    const read = await readBars(pages[0]!, dotsPerInch);
    expect(read.map(({ text }) => text).sort()).toEqual(tags.map(({ tag }) => tag).sort());
    for (const { text, x, y } of read) {
      const cell = cells(stocks[stock])[tags.findIndex(({ tag }) => tag === text)]!;
      expect(x).toBeGreaterThan(cell.x);
      expect(x).toBeLessThan(cell.x + cell.width);
      expect(y).toBeGreaterThan(cell.y);
      expect(y).toBeLessThan(cell.y + cell.height);
    }
  });
});

describe.each(stockNames)("a full sheet of %s with QR codes", (stock) => {
  const count = labelsOn(stocks[stock]);

  test.each([
    ["qr", 8, 203],
    ["qr", 10, 300],
    ["both", 8, 300],
    ["both", 10, 203],
  ] as const)(
    "alone or beside bars (%s, %i digits) scans whole at %i dpi",
    async (code, digits, dpi) => {
      const labels = plainLabels(count, code, digits);
      const expected = labels.map(({ tag }) => tag).sort();
      const [page] = await pagesOf(await printTags(labels, { ...guild, stock }));
      const squares = await readSquares(page!, dpi);
      expect(squares.map(({ text }) => text).sort()).toEqual(expected);
      const bars = await readBars(page!, dpi);
      expect(bars.map(({ text }) => text).sort()).toEqual(code === "both" ? expected : []);
      for (const { text, x, y } of [...squares, ...bars]) {
        const cell = cells(stocks[stock])[labels.findIndex(({ tag }) => tag === text)]!;
        expect(x).toBeGreaterThan(cell.x);
        expect(x).toBeLessThan(cell.x + cell.width);
        expect(y).toBeGreaterThan(cell.y);
        expect(y).toBeLessThan(cell.y + cell.height);
      }
    },
  );
});

test("places that are used up stay free, wherever they are on the first sheet", async () => {
  const tags = sampleTags(22);
  const used = { startAt: 3, skip: [5, 21] };
  const pages = await pagesOf(await printTags(tags, { ...guild, stock: "a4-21", ...used }));
  const read = await readBars(pages[0]!, 203);
  const places = cells(stocks["a4-21"]);
  const filled = places.flatMap((place, index) => {
    const here = read.filter(
      ({ x, y }) =>
        x > place.x && x < place.x + place.width && y > place.y && y < place.y + place.height,
    );
    return here.length > 0 ? [index + 1] : [];
  });
  const free = Array.from({ length: 21 }, (_, index) => index + 1);
  expect(filled).toEqual(free.filter((place) => ![1, 2, 5, 21].includes(place)));
  expect(pages).toHaveLength(2);
});

describe("start position", () => {
  test("leaves the used labels free and goes on over the next sheet", async () => {
    const tags = sampleTags(20);
    const bytes = await printTags(tags, { ...guild, stock: "a4-21", startAt: 20 });
    const pages = await pagesOf(bytes);
    expect(pages).toHaveLength(2);
    const first = await readBars(pages[0]!, 203);
    expect(first.map(({ text }) => text).sort()).toEqual([tags[0]!.tag, tags[1]!.tag]);
    const second = await readBars(pages[1]!, 203);
    expect(second).toHaveLength(18);
    const places = cells(stocks["a4-21"]);
    const top = second.find(({ text }) => text === tags[2]!.tag)!;
    expect(top.y).toBeLessThan(places[0]!.y + places[0]!.height);
    const last = first.find(({ text }) => text === tags[1]!.tag)!;
    expect(last.x).toBeGreaterThan(places[20]!.x);
    expect(last.y).toBeGreaterThan(places[20]!.y);
  });
});
