import type { Stock } from "./stock-shape.ts";

export { type Box, type Cell, cells, labelsOn, paperOf, type Stock } from "./stock-shape.ts";

const LETTER = { width: 215.9, height: 279.4 };
const A4 = { width: 210, height: 297 };

/**
 * The inch sheets follow the nominal inch figures on the sheets' own packs (2⅝ × 1 in and
 * 3½ × 2 in, the rest of the paper shared evenly); the A4 sheets follow their nominal millimetres,
 * centred on the paper. Makers differ from one another by up to 0.8 mm, which the clear space
 * inside each label takes up. Common practice, no single published source. Corner radii are our
 * own estimate and only show in previews.
 */
const sheets = {
  "letter-30": {
    name: "letter-30",
    words: "US Letter, 30 labels, 2⅝ × 1 in",
    media: {
      kind: "sheet",
      paper: LETTER,
      margin: { left: 4.7625, top: 12.7 },
      columns: 3,
      rows: 10,
      pitch: { across: 69.85, down: 25.4 },
    },
    label: { width: 66.675, height: 25.4 },
    corner: 1.5,
    purpose: "tag",
  },
  "letter-10": {
    name: "letter-10",
    words: "US Letter, 10 cards, 3½ × 2 in",
    media: {
      kind: "sheet",
      paper: LETTER,
      margin: { left: 19.05, top: 12.7 },
      columns: 2,
      rows: 5,
      pitch: { across: 88.9, down: 50.8 },
    },
    label: { width: 88.9, height: 50.8 },
    corner: 0,
    purpose: "tag",
  },
  "a4-21": {
    name: "a4-21",
    words: "A4, 21 labels, 63.5 × 38.1 mm",
    media: {
      kind: "sheet",
      paper: A4,
      margin: { left: 7.21, top: 15.15 },
      columns: 3,
      rows: 7,
      pitch: { across: 66.04, down: 38.1 },
    },
    label: { width: 63.5, height: 38.1 },
    corner: 1.5,
    purpose: "tag",
  },
  "a4-24": {
    name: "a4-24",
    words: "A4, 24 labels, 70 × 37 mm",
    media: {
      kind: "sheet",
      paper: A4,
      margin: { left: 0, top: 0.5 },
      columns: 3,
      rows: 8,
      pitch: { across: 70, down: 37 },
    },
    label: { width: 70, height: 37 },
    corner: 0,
    purpose: "tag",
  },
} as const satisfies Record<string, Stock>;

/**
 * Plain card and printable cloth, cut by hand along printed marks. All figures are our own choice:
 * the tags tile the paper with even margins, the hole takes an ordinary office punch's string.
 */
const cutByHand = {
  "hang-tag": {
    name: "hang-tag",
    words: "US Letter card, 12 hang-tags with string hole, 2 × 3½ in",
    media: {
      kind: "sheet",
      paper: LETTER,
      margin: { left: 6.35, top: 6.35 },
      columns: 4,
      rows: 3,
      pitch: { across: 50.8, down: 88.9 },
    },
    label: { width: 50.8, height: 88.9 },
    corner: 0,
    hole: { x: 25.4, y: 7, diameter: 4 },
    purpose: "tag",
    guides: true,
  },
  "care-strip": {
    name: "care-strip",
    words: "US Letter printable cloth, 24 care strips, 25 × 80 mm",
    media: {
      kind: "sheet",
      paper: LETTER,
      margin: { left: 7.95, top: 19.7 },
      columns: 8,
      rows: 3,
      pitch: { across: 25, down: 80 },
    },
    label: { width: 25, height: 80 },
    corner: 0,
    purpose: "care-strip",
    guides: true,
  },
  "care-strip-a4": {
    name: "care-strip-a4",
    words: "A4 printable cloth, 24 care strips, 25 × 90 mm",
    media: {
      kind: "sheet",
      paper: A4,
      margin: { left: 5, top: 13.5 },
      columns: 8,
      rows: 3,
      pitch: { across: 25, down: 90 },
    },
    label: { width: 25, height: 90 },
    corner: 0,
    purpose: "care-strip",
    guides: true,
  },
} as const satisfies Record<string, Stock>;

/**
 * Print heads reach 48 mm of 57 and 58 mm rolls and 72 mm of 80 mm rolls: common practice, seen on
 * printers' data sheets. The label lengths are our own choice, save 2¼ × 1¼ in, a usual size.
 */
const rolls = {
  "roll-57": {
    name: "roll-57",
    words: "2¼ in roll, labels 2¼ × 1¼ in",
    media: { kind: "roll", width: 57.15, printable: 48, length: 31.75 },
    label: { width: 57.15, height: 31.75 },
    corner: 1.5,
    purpose: "tag",
  },
  "roll-58": {
    name: "roll-58",
    words: "58 mm roll, labels 58 × 60 mm",
    media: { kind: "roll", width: 58, printable: 48, length: 60 },
    label: { width: 58, height: 60 },
    corner: 0,
    purpose: "both",
  },
  "roll-80": {
    name: "roll-80",
    words: "80 mm roll, labels 80 × 50 mm",
    media: { kind: "roll", width: 80, printable: 72, length: 50 },
    label: { width: 80, height: 50 },
    corner: 0,
    purpose: "both",
  },
  "care-ribbon": {
    name: "care-ribbon",
    words: "25 mm ribbon on a roll, care strips as long as their words",
    media: { kind: "roll", width: 25, printable: 23, length: "continuous" },
    label: { width: 25, height: 120 },
    corner: 0,
    purpose: "care-strip",
  },
} as const satisfies Record<string, Stock>;

export const stocks = { ...sheets, ...cutByHand, ...rolls } as const;

export type StockName = keyof typeof stocks;

export const stockNames = Object.keys(stocks) as StockName[];

const namesFor = (purpose: "tag" | "care-strip"): StockName[] =>
  stockNames.filter((name) => [purpose, "both"].includes(stocks[name].purpose));

export const tagStockNames = namesFor("tag");
export const careStockNames = namesFor("care-strip");

/** A shipped stock by its name, or the guild's own as it is. */
export const stockOf = (stock: StockName | Stock): Stock =>
  typeof stock === "string" ? stocks[stock] : stock;
