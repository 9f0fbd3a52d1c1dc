import { expect, test } from "vitest";
import { printStockList, type StockList } from "../../src/printing/stock-list.ts";
import { linesOf, pagesOf, textsOf, wordsOf } from "../support/pdf.ts";

const day = new Date("2026-11-26T16:00:00Z");

const item = (index: number, more: object = {}) => ({
  shownTag: `104-${String(index + 1).padStart(3, "0")}-57`,
  description: `Overshot towel in natural cotton, number ${index + 1}`,
  ...{ kindName: "Towel", price: 2_800, quantity: 1, piecesInSet: 1 },
  ...more,
});

const list = (count: number, paper = "letter"): StockList => ({
  guild: {
    ...{ name: "Guild of the Long Shed", address: "1 Warp Lane\nShuttleton", paper },
    ...{ currency: "USD", locale: "en-US" },
  },
  sale: { name: "Autumn sale", firstDay: "2026-11-27", lastDay: "2026-11-29" },
  member: { number: 104, name: "Żaneta Größe" },
  items: Array.from({ length: count }, (_, index) => item(index)),
});

test("a short list says everything on one page, with a box for each entry and room to sign", async () => {
  const short = list(3);
  const set = item(3, { description: "Four placemats", quantity: 2, piecesInSet: 4, price: 6_050 });
  const pages = await pagesOf(
    await printStockList({ ...short, items: [...short.items, set] }, day),
  );
  expect(pages).toHaveLength(1);
  const words = await wordsOf(pages[0]!);
  for (const text of [
    ...["Stock list", "Guild of the Long Shed", "1 Warp Lane", "Member 104 Żaneta Größe"],
    ...["Autumn sale", "Nov 27 – 29, 2026", "Came", "In a set", "104-001-57", "Towel"],
    ...["Four placemats Towel 4 2 $60.50", "4 entries, priced together 5 $205.00", "page 1 of 1"],
    ...["A piece that is not ticked did not come", "stays its maker's until it is sold"],
    ...["Day", "The member", "For the desk"],
  ])
    expect(words).toContain(text);
  expect(words.match(/☐/g)).toHaveLength(4);
  const texts = await textsOf(pages[0]!);
  const strokes = await linesOf(pages[0]!);
  for (const name of ["Day", "The member", "For the desk"]) {
    const caption = texts.find(({ text }) => text === name)!;
    const above = strokes.filter(
      ({ x1, y1 }) =>
        Math.abs(x1 - caption.x) < 0.5 && caption.baseline - y1 > 2 && caption.baseline - y1 < 6,
    );
    expect(above, name).toHaveLength(1);
  }
});

test.each(["letter", "a4"])(
  "three hundred entries on %s break between rows, each page with its head",
  async (paper) => {
    const pages = await pagesOf(await printStockList(list(300, paper), day));
    const [width, height] = paper === "a4" ? [210, 297] : [215.9, 279.4];
    expect(pages.length).toBeGreaterThan(5);
    let seen = 0;
    for (const [index, page] of pages.entries()) {
      const texts = await textsOf(page);
      const words = texts.map(({ text }) => text).join(" ");
      expect(words).toContain(`page ${index + 1} of ${pages.length}`);
      const foot = texts.find(({ text }) => text.startsWith("page "))!;
      for (const { text, x, width: wide, baseline } of texts) {
        expect(x, text).toBeGreaterThan(15.9);
        expect(x + wide, text).toBeLessThan(width! - 15.9);
        expect(baseline, text).toBeLessThan(height! - 15);
        if (baseline !== foot.baseline) expect(baseline, text).toBeLessThan(foot.baseline - 4);
      }
      const rows = words.match(/104-\d{3}-57/g)?.length ?? 0;
      seen += rows;
      if (rows > 0) {
        expect(words).toContain("Price of one");
        expect(rows).toBeGreaterThan(1);
      }
      if (index > 0) expect(words).toContain("Member 104 Żaneta Größe");
    }
    expect(seen).toBe(300);
    const last = await wordsOf(pages.at(-1)!);
    for (const text of ["A piece that is not ticked did not come", "The member", "For the desk"])
      expect(last).toContain(text);
  },
);

test("whatever the length, words, day and signatures stand on one page", async () => {
  for (const count of [0, 1, 20, 24, 28, 30, 32, 34, 36, 40]) {
    const pages = await pagesOf(await printStockList(list(count), day));
    const last = await wordsOf(pages.at(-1)!);
    for (const text of ["By signing", "Day", "The member", "For the desk"])
      expect([count, last]).toEqual([count, expect.stringContaining(text)]);
  }
});

test("the same list gives the same bytes", async () => {
  const print = () => printStockList(list(40), day);
  expect(Buffer.compare(await print(), await print())).toBe(0);
});
