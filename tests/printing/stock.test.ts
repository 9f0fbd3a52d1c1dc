import { describe, expect, test } from "vitest";
import {
  careStockNames,
  cells,
  labelsOn,
  paperOf,
  type Stock,
  stockNames,
  stocks,
  tagStockNames,
} from "../../src/printing/stock.ts";
import { checkStock } from "../../src/printing/stock-check.ts";

const INCH = 25.4;
const sheetNames = stockNames.filter((name) => stocks[name].media.kind === "sheet");

describe("label stocks", () => {
  test("hold the number of labels in their name", () => {
    expect(tagStockNames.slice(0, 4)).toEqual(["letter-30", "letter-10", "a4-21", "a4-24"]);
    for (const name of tagStockNames.slice(0, 4)) {
      const count = Number(name.split("-")[1]);
      expect(labelsOn(stocks[name])).toBe(count);
      expect(cells(stocks[name])).toHaveLength(count);
    }
  });

  test("are for tags, for care strips or for both", () => {
    expect(tagStockNames).not.toContain("care-ribbon");
    expect(careStockNames).not.toContain("letter-30");
    expect(tagStockNames).toContain("roll-58");
    expect(careStockNames).toContain("roll-58");
    expect(new Set([...tagStockNames, ...careStockNames])).toEqual(new Set(stockNames));
  });

  // The nominal label sizes are printed on the packs; common practice, no single source.
  test("have the nominal label sizes", () => {
    expect(stocks["letter-30"].label.width).toBeCloseTo(2.625 * INCH, 6);
    expect(stocks["letter-30"].label.height).toBeCloseTo(INCH, 6);
    expect(stocks["letter-10"].label.width).toBeCloseTo(3.5 * INCH, 6);
    expect(stocks["letter-10"].label.height).toBeCloseTo(2 * INCH, 6);
    expect(stocks["a4-21"].label).toEqual({ width: 63.5, height: 38.1 });
    expect(stocks["a4-24"].label).toEqual({ width: 70, height: 37 });
    expect(stocks["hang-tag"].label.width).toBeCloseTo(2 * INCH, 6);
    expect(stocks["hang-tag"].label.height).toBeCloseTo(3.5 * INCH, 6);
    expect(stocks["roll-57"].media.width).toBeCloseTo(2.25 * INCH, 6);
  });

  test.each(sheetNames)("%s lies evenly on its paper", (name) => {
    const paper = paperOf(stocks[name]);
    const places = cells(stocks[name]);
    const last = places.at(-1)!;
    expect(places[0]!.x).toBeCloseTo(paper.width - last.x - last.width, 1);
    expect(places[0]!.y).toBeCloseTo(paper.height - last.y - last.height, 1);
  });

  test.each(stockNames)("%s passes its own check and keeps its ink clear", (name) => {
    const stock: Stock = stocks[name];
    expect(stock.name).toBe(name);
    expect(checkStock(stock)).toEqual([]);
    const paper = paperOf(stock);
    const roll = stock.media.kind === "roll" ? stock.media : undefined;
    const edge = roll === undefined ? 5 : (roll.width - roll.printable) / 2;
    const inset = Math.min(2, stock.label.width / 20) - 1e-9;
    for (const { x, y, width, height, clear } of cells(stock)) {
      expect(clear.left).toBeGreaterThanOrEqual(Math.max(x + inset, edge - 1e-9));
      expect(clear.right).toBeLessThanOrEqual(
        Math.min(x + width - inset, paper.width - edge + 1e-9),
      );
      expect(clear.top).toBeGreaterThanOrEqual(y + inset);
      expect(clear.bottom).toBeLessThanOrEqual(y + height - inset);
      if (roll === undefined) {
        expect(clear.top).toBeGreaterThanOrEqual(5);
        expect(clear.bottom).toBeLessThanOrEqual(paper.height - 5);
      }
    }
  });

  test.each(stockNames)("%s has equally large clear parts", (name) => {
    const sizes = cells(stocks[name]).map(
      ({ clear }) =>
        `${Math.floor((clear.right - clear.left) * 1000 + 0.5)} × ${Math.floor((clear.bottom - clear.top) * 1000 + 0.5)}`,
    );
    expect(new Set(sizes).size).toBe(1);
  });

  test("run along the row first", () => {
    const [first, second] = cells(stocks["a4-21"]);
    expect(second!.x).toBeCloseTo(first!.x + 66.04, 6);
    expect(second!.y).toBe(first!.y);
  });

  test("keep ink off the string hole", () => {
    const { hole } = stocks["hang-tag"];
    for (const { y, clear } of cells(stocks["hang-tag"])) {
      expect(clear.top).toBeGreaterThanOrEqual(y + hole.y + hole.diameter / 2 + 1.5 - 1e-9);
    }
  });

  test("put the words beside a hole at the left", () => {
    const stock: Stock = {
      ...stocks["letter-10"],
      hole: { x: 6, y: 25, diameter: 4 },
    };
    expect(checkStock(stock)).toEqual([]);
    const [cell] = cells(stock);
    expect(cell!.clear.left).toBeCloseTo(cell!.x + 9.5, 6);
    expect(cell!.clear.top).toBeCloseTo(cell!.y + 2, 6);
  });
});

const own = (more: Partial<Stock>): Stock => ({ ...stocks["letter-10"], ...more });
const sheet = stocks["letter-10"].media;

describe("a guild's own stock", () => {
  test.each<[string, string, Stock]>([
    ["without a name", "name", own({ name: " " })],
    ["without words", "words", own({ words: "" })],
    ["without width", "label.width", own({ label: { width: 0, height: 50 } })],
    ["with a height that is no number", "label.height", own({ label: { width: 88, height: NaN } })],
    ["with half a column", "media.columns", own({ media: { ...sheet, columns: 1.5 } })],
    ["with no row", "media.rows", own({ media: { ...sheet, rows: 0 } })],
    [
      "with a margin outside",
      "media.margin.left",
      own({ media: { ...sheet, margin: { left: -1, top: 5 } } }),
    ],
    ["too wide for the paper", "media.columns", own({ media: { ...sheet, columns: 3 } })],
    ["too high for the paper", "media.rows", own({ media: { ...sheet, rows: 6 } })],
    [
      "whose columns overlap",
      "media.pitch.across",
      own({ media: { ...sheet, pitch: { across: 80, down: 50.8 } } }),
    ],
    [
      "whose rows overlap",
      "media.pitch.down",
      own({ media: { ...sheet, pitch: { across: 88.9, down: 50 } } }),
    ],
    ["too small for bars", "label.height", own({ label: { width: 88.9, height: 18 } })],
    ["too narrow for bars", "label.width", own({ label: { width: 40, height: 50.8 } })],
    ["with a huge corner", "corner", own({ corner: 30 })],
    ["with a hole over the edge", "hole.y", own({ hole: { x: 20, y: 2, diameter: 4 } })],
    ["with a hole beside the label", "hole.x", own({ hole: { x: 88, y: 20, diameter: 4 } })],
    ["with a pinprick", "hole.diameter", own({ hole: { x: 20, y: 20, diameter: 0.2 } })],
    [
      "wider than its roll",
      "label.width",
      own({ media: { kind: "roll", width: 80, printable: 72, length: 60 } }),
    ],
    [
      "longer than its step",
      "media.length",
      own({ media: { kind: "roll", width: 90, printable: 80, length: 40 } }),
    ],
    [
      "printed beyond its roll",
      "media.printable",
      own({ media: { kind: "roll", width: 90, printable: 91, length: 60 } }),
    ],
  ])("is refused %s", (_, field, stock) => {
    expect(checkStock(stock).map((error) => error.field)).toContain(field);
  });

  test("is told in plain sentences", () => {
    const [error] = checkStock(own({ media: { ...sheet, columns: 3 } }));
    expect(error!.message).toBe("The last column would stand beyond the right edge of the paper.");
  });
});
