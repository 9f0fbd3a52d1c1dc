import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { ASCENT, measuringFaces } from "../../../src/printing/fonts.ts";
import { plainContent } from "../../../src/printing/labels/content.ts";
import type { Laid, Setting } from "../../../src/printing/labels/laid.ts";
import type { Mark } from "../../../src/printing/labels/marks.ts";
import { setStrip } from "../../../src/printing/labels/set-strip.ts";
import { setTag } from "../../../src/printing/labels/set-tag.ts";
import { toPoints } from "../../../src/printing/lengths.ts";
import { careStockNames, type Stock, stocks, tagStockNames } from "../../../src/printing/stock.ts";
import { clearPart } from "../../../src/printing/stock-shape.ts";
import type { LabelContent } from "../../../src/rules/labels/label-content.ts";

const word = fc.oneof(
  fc.constantFrom("Wool", "Silk", "70%", "Größe", "Łódź", "hand-dyed", "100%", "½", "Leinen"),
  fc.string({
    minLength: 1,
    maxLength: 14,
    unit: fc.constantFrom(..."abcdefghijklmnopqrstuvwxyzÄß.,"),
  }),
);
const line = (most: number) =>
  fc.array(word, { minLength: 1, maxLength: most }).map((words) => words.join(" "));
const maybe = (most: number) => fc.option(line(most), { nil: undefined });

const codes = ["wash:hand", "bleach:none", "dry:flat", "iron:2", "professional:P"];
const label: fc.Arbitrary<LabelContent> = fc.record({
  tag: fc.constantFrom("10100126", "1234000013"),
  shownTag: fc.constantFrom("101-001-26", "1234-0000-13"),
  title: line(14),
  details: maybe(12),
  size: maybe(5),
  fibreLines: fc.array(line(8), { maxLength: 3 }),
  careLines: fc.array(line(8), { maxLength: 5 }),
  cautionLines: fc.array(line(12), { maxLength: 2 }),
  originLine: maybe(6),
  identityLine: maybe(5),
  price: fc.constantFrom(undefined, "$1.00", "$1,284.50", "1.284,50 €"),
  memberNumber: fc.constantFrom(undefined, "7", "1234"),
  memberName: maybe(3),
  quantityNote: maybe(4),
  setNote: maybe(3),
  symbols: fc.option(
    fc.record({ set: fc.constantFrom("astm" as const, "iso" as const), codes: fc.subarray(codes) }),
    { nil: undefined },
  ),
  code: fc.constantFrom("bars" as const, "qr" as const, "both" as const),
});

type Text = Extract<Mark, { kind: "text" }>;
const textsIn = (laid: Laid): Text[] => laid.marks.filter((mark) => mark.kind === "text");

/** The words of the piece, without the line that says whose further label this is. */
const wordsIn = (laid: Laid): string =>
  textsIn(laid)
    .map(({ text }) => text)
    .filter((text) => !text.endsWith(", continued"))
    .join("");

/** All letters of a text without spaces, since lines may break anywhere between words. */
const letters = (text: string): string => text.replace(/\s/g, "");

function expectInside(stock: Stock, all: Laid[]): void {
  const clear = clearPart(stock);
  const faces = measuringFaces();
  for (const laid of all) {
    for (const { face, size, x, baseline, text } of textsIn(laid)) {
      expect(size, text).toBeGreaterThanOrEqual(6);
      expect(x, text).toBeGreaterThanOrEqual(toPoints(clear.left) - 0.01);
      const right = toPoints(clear.right) + 0.01;
      expect(x + faces[face].width(text, size), text).toBeLessThanOrEqual(right);
      expect(baseline - ASCENT * size, text).toBeGreaterThanOrEqual(toPoints(clear.top) - 1);
      expect(baseline, text).toBeLessThanOrEqual(toPoints(clear.bottom) + 0.01);
    }
  }
}

/** Every part that the law or the till needs has all its letters somewhere, and in one run. */
function expectWhole(content: LabelContent, all: Laid[], parts: "tag" | "care-strip"): void {
  const plain = plainContent(content);
  const printed = all.map((laid) => letters(wordsIn(laid))).join("");
  const needed = [...plain.fibre, ...plain.care, ...plain.caution, plain.origin, plain.identity];
  if (parts === "tag") needed.push(plain.shownTag, plain.price, ...plain.notes);
  for (const text of needed) expect(printed).toContain(letters(text));
}

interface Area {
  name: string;
  left: number;
  right: number;
  top: number;
  bottom: number;
}

const overlap = (one: Area, other: Area): number =>
  Math.min(
    Math.min(one.right, other.right) - Math.max(one.left, other.left),
    Math.min(one.bottom, other.bottom) - Math.max(one.top, other.top),
  );

/** What a mark covers, and the same with the clear paper that it needs around it. */
function areasOf(mark: Mark): { ink: Area; quiet: Area } | undefined {
  if (mark.kind === "text") {
    const { face, size, x, baseline, text } = mark;
    const right = x + measuringFaces()[face].width(text, size);
    const ink = { name: text, left: x, right, top: baseline - 0.6 * size, bottom: baseline };
    return { ink, quiet: ink };
  }
  if (mark.kind === "squares") {
    const { x: left, y: top, module } = mark.squares;
    const ink = { name: "QR", left, right: left + 21 * module, top, bottom: top + 21 * module };
    const room = 4 * module;
    return {
      ink,
      quiet: {
        ...ink,
        left: left - room,
        right: ink.right + room,
        top: top - room,
        bottom: ink.bottom + room,
      },
    };
  }
  if (mark.kind !== "bars") return undefined;
  const { x: left, y: top, height, module, widths } = mark.bars;
  const right = left + widths.reduce((sum, width) => sum + width, 0) * module;
  const ink = { name: "bars", left, right, top, bottom: top + height };
  return { ink, quiet: { ...ink, left: left - 10 * module, right: right + 10 * module } };
}

/** Words never touch one another and stay out of the quiet zones of bars and squares. */
function expectApart(all: Laid[]): void {
  for (const { marks } of all) {
    const areas = marks.map(areasOf).filter((area) => area !== undefined);
    for (const one of areas) {
      for (const other of areas) {
        if (one === other) continue;
        const names = `${one.ink.name} over ${other.ink.name}`;
        expect(overlap(one.quiet, other.ink), names).toBeLessThanOrEqual(0.05);
      }
    }
  }
}

const laidOf = (setting: Setting): Laid[] => setting.laid?.() ?? [];

describe("every label", () => {
  test.each(tagStockNames)("fits %s with all that must print", (name) => {
    fc.assert(
      fc.property(label, (content) => {
        const setting = setTag(measuringFaces(), content, stocks[name], "Guild of the Long Shed");
        if (!setting.fits) expect(setting.missing.length).toBeGreaterThan(0);
        if (!setting.fits && setting.laid === undefined) {
          expect(["price", "number"]).toEqual(expect.arrayContaining(setting.missing));
          return;
        }
        const all = laidOf(setting);
        expectInside(stocks[name], all);
        expectWhole(content, all, "tag");
        expectApart(all);
        if (setting.fits) expect(all).toHaveLength(1);
      }),
      { numRuns: 60, endOnFailure: true },
    );
  });

  test.each(careStockNames)("fits %s as a care strip", (name) => {
    fc.assert(
      fc.property(label, (content) => {
        const setting = setStrip(measuringFaces(), content, stocks[name]);
        const all = laidOf(setting);
        expectInside(stocks[name], all);
        expectWhole(content, all, "care-strip");
        expectApart(all);
        if (setting.fits) expect(all).toHaveLength(1);
      }),
      { numRuns: 50, endOnFailure: true },
    );
  });
});
