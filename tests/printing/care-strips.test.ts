import { describe, expect, test } from "vitest";
import { LabelsDoNotFit, printCareStrips } from "../../src/printing/care-strips.ts";
import { careStockNames, cells, labelsOn, stocks } from "../../src/printing/stock.ts";
import { linesOf, pagesOf, textsOf, wordsOf } from "../support/pdf.ts";
import { fullLabel, guild } from "./samples.ts";

const label = fullLabel({ cautionLines: ["Keep away from flame."] });

describe.each(careStockNames)("a care strip on %s", (stock) => {
  test("has the words that stay with the piece and no price or number", async () => {
    const [page] = await pagesOf(await printCareStrips([label], { ...guild, stock }));
    const words = (await wordsOf(page!)).replace(/\s/g, "");
    for (const text of [
      ...label.fibreLines,
      ...label.careLines,
      ...label.cautionLines,
      label.originLine!,
      label.identityLine!,
    ]) {
      expect(words).toContain(text.replace(/\s/g, ""));
    }
    for (const text of [label.price!, label.shownTag, label.title]) {
      expect(words).not.toContain(text.replace(/\s/g, ""));
    }
  });

  test("leaves the seam free", async () => {
    const labels = Array(labelsOn(stocks[stock])).fill(label);
    const [page] = await pagesOf(await printCareStrips(labels, { ...guild, stock }));
    const places = cells(stocks[stock]);
    for (const { text, baseline, size, x } of await textsOf(page!)) {
      const top = baseline - (0.8 * size * 25.4) / 72;
      const place = places.find(
        (cell) =>
          x > cell.x && x < cell.x + cell.width && top > cell.y && top < cell.y + cell.height,
      );
      expect(top - place!.y, text).toBeGreaterThan(5);
    }
  });

  test("draws the symbols only when there are any", async () => {
    const strokes = async (symbols: typeof label.symbols): Promise<number> => {
      const bytes = await printCareStrips([{ ...label, symbols }], { ...guild, stock });
      return (await linesOf((await pagesOf(bytes))[0]!)).length;
    };
    expect(await strokes(label.symbols)).toBeGreaterThan((await strokes(undefined)) + 10);
  });
});

describe("a ribbon", () => {
  test("is as long as its words", async () => {
    const short = { ...label, careLines: ["Dry flat."], symbols: undefined };
    const bytes = await printCareStrips([short, label], { ...guild, stock: "care-ribbon" });
    const heights = (await pagesOf(bytes)).map(({ view }) => view[3]!);
    expect(heights[0]).toBeLessThan(heights[1]! - 20);
  });
});

test("a strip that is too short is refused, or gets a second one", async () => {
  const long = { ...label, careLines: Array(20).fill("Hand wash in cool water, dry flat.") };
  const options = { ...guild, stock: "care-strip" } as const;
  await expect(printCareStrips([long], options)).rejects.toBeInstanceOf(LabelsDoNotFit);
  const bytes = await printCareStrips([long], { ...options, secondStrip: true });
  const words = await wordsOf((await pagesOf(bytes))[0]!);
  expect(words.split("cool").length - 1).toBe(20);
});
