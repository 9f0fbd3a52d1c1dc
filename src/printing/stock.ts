/**
 * A sheet of labels. Every figure is in millimetres from the top left corner of the paper.
 * `pitch` is the way from one label's left (top) edge to the next one's.
 */
export interface Stock {
  name: string;
  paper: { width: number; height: number };
  label: { width: number; height: number };
  columns: number;
  rows: number;
  margin: { left: number; top: number };
  pitch: { across: number; down: number };
}

const LETTER = { width: 215.9, height: 279.4 };
const A4 = { width: 210, height: 297 };

/**
 * The inch sheets follow the nominal inch figures on the sheets' own packs (2⅝ × 1 in and
 * 3½ × 2 in, the rest of the paper shared evenly); the A4 sheets follow their nominal millimetres,
 * centred on the paper. Makers differ from one another by up to 0.8 mm, which the clear space
 * inside each label takes up. Common practice, no single published source.
 */
export const stocks = {
  "letter-30": {
    name: "US Letter, 30 labels, 2⅝ × 1 in",
    paper: LETTER,
    label: { width: 66.675, height: 25.4 },
    columns: 3,
    rows: 10,
    margin: { left: 4.7625, top: 12.7 },
    pitch: { across: 69.85, down: 25.4 },
  },
  "letter-10": {
    name: "US Letter, 10 cards, 3½ × 2 in",
    paper: LETTER,
    label: { width: 88.9, height: 50.8 },
    columns: 2,
    rows: 5,
    margin: { left: 19.05, top: 12.7 },
    pitch: { across: 88.9, down: 50.8 },
  },
  "a4-21": {
    name: "A4, 21 labels, 63.5 × 38.1 mm",
    paper: A4,
    label: { width: 63.5, height: 38.1 },
    columns: 3,
    rows: 7,
    margin: { left: 7.21, top: 15.15 },
    pitch: { across: 66.04, down: 38.1 },
  },
  "a4-24": {
    name: "A4, 24 labels, 70 × 37 mm",
    paper: A4,
    label: { width: 70, height: 37 },
    columns: 3,
    rows: 8,
    margin: { left: 0, top: 0.5 },
    pitch: { across: 70, down: 37 },
  },
} as const satisfies Record<string, Stock>;

export type StockName = keyof typeof stocks;

export const stockNames = Object.keys(stocks) as StockName[];

/** How many labels one sheet holds. */
export const labelsOn = (stock: Stock): number => stock.columns * stock.rows;

/** One label's place on the paper, in millimetres; `clear` is the part that may carry ink. */
export interface Cell {
  x: number;
  y: number;
  width: number;
  height: number;
  clear: { left: number; top: number; right: number; bottom: number };
}

/** A sheet may sit this far off in the printer before ink touches the neighbouring label. */
const CLEAR_IN_LABEL = 2;
/** Ordinary printers cannot print nearer to the paper's edge than this. */
const CLEAR_ON_PAPER = 5;

/** The places of a sheet's labels in reading order: along each row, then down. */
export function cells(stock: Stock): Cell[] {
  const found: Cell[] = [];
  for (let row = 0; row < stock.rows; row += 1) {
    for (let column = 0; column < stock.columns; column += 1) {
      const x = stock.margin.left + column * stock.pitch.across;
      const y = stock.margin.top + row * stock.pitch.down;
      found.push({ x, y, ...stock.label, clear: clearPart(stock, x, y) });
    }
  }
  return found;
}

function clearPart(stock: Stock, x: number, y: number): Cell["clear"] {
  const { paper, label } = stock;
  return {
    left: Math.max(x + CLEAR_IN_LABEL, CLEAR_ON_PAPER),
    top: Math.max(y + CLEAR_IN_LABEL, CLEAR_ON_PAPER),
    right: Math.min(x + label.width - CLEAR_IN_LABEL, paper.width - CLEAR_ON_PAPER),
    bottom: Math.min(y + label.height - CLEAR_IN_LABEL, paper.height - CLEAR_ON_PAPER),
  };
}
