import { describe, expect, test } from "vitest";
import { printCareStrips } from "../../src/printing/care-strips.ts";
import { svgOf } from "../../src/printing/preview.ts";
import { careStockNames, cells, stocks, tagStockNames } from "../../src/printing/stock.ts";
import { clearPart } from "../../src/printing/stock-shape.ts";
import { printTags } from "../../src/printing/tags.ts";
import type { LabelContent } from "../../src/rules/labels/label-content.ts";
import { boxesOf, linesOf, type PrintedPage, pagesOf, textsOf } from "../support/pdf.ts";
import { fullLabel, guild } from "./samples.ts";

const POINT = 25.4 / 72;

/** One mark: its words, if any, and its places and sizes in millimetres. */
interface Item {
  words: string;
  figures: number[];
}

interface Shown {
  texts: Item[];
  boxes: Item[];
  lines: Item[];
}

const item = (words: string, ...figures: number[]): Item => ({ words, figures });

/** Every mark of the one has its own like in the other, to two hundredths of a millimetre. */
function expectSame(shown: Item[], printed: Item[]): void {
  expect(shown).toHaveLength(printed.length);
  const open = new Set(printed);
  for (const one of shown) {
    const like = [...open].find(
      ({ words, figures }) =>
        words === one.words &&
        figures.every((value, index) => Math.abs(value - one.figures[index]!) < 0.02),
    );
    expect(like, JSON.stringify(one)).toBeDefined();
    open.delete(like!);
  }
}

function inPreview(svg: string): Shown {
  const texts = [
    ...svg.matchAll(/aria-label="([^"]*)" transform="translate\(([^)]*)\) scale\(([\d.]+)/g),
  ].map(([, words, at, scale]) => {
    const [x, y] = at!.split(" ").map(Number);
    const plain = words!.replace(/&#(\d+);/g, (_, code) => String.fromCodePoint(Number(code)));
    return item(plain, x! * POINT, y! * POINT, Number(scale) * 2048);
  });
  const boxes = [...svg.matchAll(/M([\d.]+) ([\d.]+)h([\d.]+)v([\d.]+)h-[\d.]+z/g)].map((found) =>
    item("", ...found.slice(1, 5).map((value) => Number(value) * POINT)),
  );
  const drawn = [...svg.matchAll(/<path fill="none" stroke="rgb\(0 0 0\)"[^>]* d="([^"]*)"/g)];
  const lines = drawn.flatMap(([, steps]) => {
    let at: number[] = [];
    return [...steps!.matchAll(/([MLC])([\d. -]+)/g)].flatMap(([, kind, figures]) => {
      const end = figures!.trim().split(/\s+/).map(Number).slice(-2);
      const line = [...at, ...end].map((value) => value * POINT);
      at = end;
      return kind === "L" ? [item("", ...line)] : [];
    });
  });
  return { texts, boxes, lines };
}

/** The marks of one page, seen from the corner of the label that is on it. */
async function onPaper(page: PrintedPage, x: number, y: number, guides: number): Promise<Shown> {
  const texts = await textsOf(page);
  const boxes = await boxesOf(page);
  const lines = (await linesOf(page)).slice(0, guides === 0 ? undefined : -guides);
  return {
    texts: texts.map((one) => item(one.text, one.x - x, one.baseline - y, one.size)),
    boxes: boxes.map((one) => item("", one.x - x, one.y - y, one.width, one.height)),
    lines: lines.map((one) => item("", one.x1 - x, one.y1 - y, one.x2 - x, one.y2 - y)),
  };
}

/** Hand-cut sheets have four cutting marks for each edge between labels. */
function guideLines(name: keyof typeof stocks): number {
  const { media } = stocks[name];
  if (media.kind === "roll" || !("guides" in stocks[name])) return 0;
  return 2 * (media.columns + 1) + 2 * (media.rows + 1);
}

const labels: [string, LabelContent][] = [
  ["bars", fullLabel()],
  ["a QR code", fullLabel({ code: "qr", memberName: "Żaneta & <Größe>" })],
  ["both", fullLabel({ code: "both", symbols: undefined })],
];

describe.each(labels)("the preview with %s", (_, label) => {
  test.each(tagStockNames)("shows %s exactly as it prints", async (name) => {
    const bytes = await printTags([label], { ...guild, stock: name, secondStrip: true });
    const pages = await pagesOf(bytes);
    const svg = svgOf(label, name, { guildName: guild.guildName });
    const single = svg.split("continued").length === 1;
    if (!single) return;
    const [cell] = cells(stocks[name]);
    const home = clearPart(stocks[name]);
    const corner = { x: cell!.clear.left - home.left, y: cell!.clear.top - home.top };
    const paper = await onPaper(pages[0]!, corner.x, corner.y, guideLines(name));
    const shown = inPreview(svg);
    expectSame(shown.texts, paper.texts);
    expectSame(shown.boxes, paper.boxes);
    expectSame(shown.lines, paper.lines);
    expect(shown.texts.length).toBeGreaterThan(5);
  });

  test.each(careStockNames)("shows a care strip on %s exactly as it prints", async (name) => {
    const [page] = await pagesOf(await printCareStrips([label], { ...guild, stock: name }));
    const [cell] = cells(stocks[name]);
    const paper = await onPaper(page!, cell!.x, cell!.y, guideLines(name));
    const svg = svgOf(label, name, { guildName: "", purpose: "care-strip" });
    const shown = inPreview(svg);
    expectSame(shown.texts, paper.texts);
    expectSame(shown.boxes, paper.boxes);
    expectSame(shown.lines, paper.lines);
  });
});

test("a preview is one safe picture of the label's true size", () => {
  const label = fullLabel({ title: `<script>"&'` });
  const svg = svgOf(label, "letter-10", { guildName: "Guild" });
  expect(svg).toMatch(
    /^<svg xmlns="http:\/\/www.w3.org\/2000\/svg" role="img" [^>]*width="88.9mm" height="50.8mm"/,
  );
  expect(svg).not.toContain("<script>");
  expect(svg).toContain("<title>Label 101-001-26</title>");
});

test("what has no room follows below on a further label", () => {
  const careLines = ["Hand wash in cool water and dry flat in the shade, away from heat."];
  const label = fullLabel({ careLines: Array(6).fill(careLines[0]) });
  const svg = svgOf(label, "letter-30", { guildName: "Guild" });
  expect(svg).toContain("101-001-26, continued");
  const [, height] = /height="([\d.]+)mm"/.exec(svg)!;
  expect(Number(height)).toBeCloseTo(2 * 25.4 + 3, 1);
});
