import { describe, expect, test } from "vitest";
import { printRuler } from "../../src/printing/ruler.ts";
import { cells, stockNames, stocks } from "../../src/printing/stock.ts";
import { linesOf, pagesOf, textsOf, wordsOf } from "../support/pdf.ts";

const createdAt = new Date("2027-04-20T09:00:00Z");

async function sheet(name: (typeof stockNames)[number], scaleX = 1000) {
  const calibration = { nudgeX: 0, nudgeY: 0, scaleX, scaleY: 1000 };
  const [page] = await pagesOf(await printRuler(name, { createdAt, calibration }));
  return page!;
}

const near = (one: number, other: number): boolean => Math.abs(one - other) < 0.1;

describe.each(stockNames)("the ruler sheet of %s", (name) => {
  test("has the outline of every label where the label is", async () => {
    const lines = await linesOf(await sheet(name));
    for (const { x, y, width, height } of cells(stocks[name])) {
      const { corner } = stocks[name];
      const has = (x1: number, y1: number, x2: number, y2: number): boolean =>
        lines.some(
          (line) =>
            near(line.x1, x1) && near(line.y1, y1) && near(line.x2, x2) && near(line.y2, y2),
        );
      expect(has(x + corner, y, x + width - corner, y)).toBe(true);
      expect(has(x + width, y + corner, x + width, y + height - corner)).toBe(true);
      expect(has(x + width - corner, y + height, x + corner, y + height)).toBe(true);
      expect(has(x, y + height - corner, x, y + corner)).toBe(true);
    }
  });

  test("numbers the places for the start position", async () => {
    const texts = (await textsOf(await sheet(name))).map(({ text }) => text);
    for (let place = 1; place <= cells(stocks[name]).length; place += 1) {
      expect(texts).toContain(String(place));
    }
  });
});

describe("the rulers", () => {
  test("are exactly 100 mm both ways on sheets, with a stroke at every millimetre", async () => {
    const page = await sheet("letter-30");
    const lines = await linesOf(page);
    const left = (215.9 - 100) / 2;
    const top = (279.4 - 100) / 2;
    const across = lines.filter(
      ({ x1, y1, y2 }) => near(x1, left) && near(y1, top) && near(y2, top),
    );
    expect(Math.max(...across.map(({ x1, x2 }) => x2 - x1))).toBeCloseTo(100, 2);
    const down = lines.filter(
      ({ x1, x2, y1 }) => near(x1, left) && near(x2, left) && near(y1, top),
    );
    expect(Math.max(...down.map(({ y1, y2 }) => y2 - y1))).toBeCloseTo(100, 2);
    for (let millimetre = 0; millimetre <= 100; millimetre += 1) {
      const stroke = lines.filter(
        ({ x1, x2, y1, y2 }) =>
          Math.abs(x1 - left - millimetre) < 0.01 && x1 === x2 && near(y1, top) && y2 > y1 + 1,
      );
      expect(stroke.length, String(millimetre)).toBeGreaterThan(0);
    }
    expect(await wordsOf(page)).toContain("Across 100 mm, down 100 mm.");
  });

  test("say how long they are on narrow rolls", async () => {
    expect(await wordsOf(await sheet("roll-58"))).toContain("Across 40 mm, down 40 mm.");
  });

  test("stretch with the printer's figures", async () => {
    const lines = await linesOf(await sheet("letter-30", 1020));
    const lengths = lines.map(({ x1, x2 }) => x2 - x1);
    expect(lengths.some((length) => Math.abs(length - 102) < 0.01)).toBe(true);
  });
});
