import { describe, expect, test } from "vitest";
import { cells, labelsOn, stockNames, stocks } from "../../src/printing/stock.ts";

const INCH = 25.4;

describe("label stocks", () => {
  test("hold the number of labels in their name", () => {
    expect(stockNames).toEqual(["letter-30", "letter-10", "a4-21", "a4-24"]);
    for (const name of stockNames) {
      const count = Number(name.split("-")[1]);
      expect(labelsOn(stocks[name])).toBe(count);
      expect(cells(stocks[name])).toHaveLength(count);
    }
  });

  // The nominal label sizes are printed on the packs; common practice, no single source.
  test("have the nominal label sizes", () => {
    expect(stocks["letter-30"].label.width).toBeCloseTo(2.625 * INCH, 6);
    expect(stocks["letter-30"].label.height).toBeCloseTo(INCH, 6);
    expect(stocks["letter-10"].label.width).toBeCloseTo(3.5 * INCH, 6);
    expect(stocks["letter-10"].label.height).toBeCloseTo(2 * INCH, 6);
    expect(stocks["a4-21"].label).toEqual({ width: 63.5, height: 38.1 });
    expect(stocks["a4-24"].label).toEqual({ width: 70, height: 37 });
  });

  test.each(stockNames)("%s lies evenly on its paper", (name) => {
    const { paper } = stocks[name];
    const places = cells(stocks[name]);
    const last = places.at(-1)!;
    expect(places[0]!.x).toBeCloseTo(paper.width - last.x - last.width, 1);
    expect(places[0]!.y).toBeCloseTo(paper.height - last.y - last.height, 1);
  });

  test.each(stockNames)("%s keeps its labels apart and its ink clear", (name) => {
    const { paper, pitch, label } = stocks[name];
    expect(pitch.across).toBeGreaterThanOrEqual(label.width);
    expect(pitch.down).toBeGreaterThanOrEqual(label.height);
    for (const { x, y, width, height, clear } of cells(stocks[name])) {
      expect(clear.left).toBeGreaterThanOrEqual(Math.max(x + 2, 5));
      expect(clear.top).toBeGreaterThanOrEqual(Math.max(y + 2, 5));
      expect(clear.right).toBeLessThanOrEqual(Math.min(x + width - 2, paper.width - 5));
      expect(clear.bottom).toBeLessThanOrEqual(Math.min(y + height - 2, paper.height - 5));
    }
  });

  test("run along the row first", () => {
    const [first, second] = cells(stocks["a4-21"]);
    expect(second!.x).toBeCloseTo(first!.x + 66.04, 6);
    expect(second!.y).toBe(first!.y);
  });
});
