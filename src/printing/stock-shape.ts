/** Sheets of labels. Every figure is in millimetres from the top left corner of the paper. */
export interface SheetMedia {
  kind: "sheet";
  paper: { width: number; height: number };
  margin: { left: number; top: number };
  columns: number;
  rows: number;
  /** The way from one label's left (top) edge to the next one's. */
  pitch: { across: number; down: number };
}

/** Labels one behind another on a roll, each in the middle of its width. Millimetres. */
export interface RollMedia {
  kind: "roll";
  width: number;
  /** The middle part that the print head reaches. */
  printable: number;
  /** From one label's start to the next one's; a continuous roll is cut where the words end. */
  length: number | "continuous";
}

/** A string hole: its middle from the label's top left corner, in millimetres. */
export interface Hole {
  x: number;
  y: number;
  diameter: number;
}

/** What labels are printed on. A guild may add its own; `checkStock` says what is wrong with it. */
export interface Stock {
  name: string;
  /** What people read when they choose. */
  words: string;
  media: SheetMedia | RollMedia;
  /** On a continuous roll the height is the longest a label may grow. */
  label: { width: number; height: number };
  /** Radius of the rounded corners; 0 for square ones. */
  corner: number;
  hole?: Hole;
  purpose: "tag" | "care-strip" | "both";
  /** Plain card or cloth is cut by hand, so fine marks show where to cut and where to punch. */
  guides?: boolean;
}

/** An upright rectangle by its edges; the unit is said where it is used. */
export interface Box {
  left: number;
  top: number;
  right: number;
  bottom: number;
}

/** One label's place on the paper, in millimetres; `clear` is the part that may carry ink. */
export interface Cell {
  x: number;
  y: number;
  width: number;
  height: number;
  clear: Box;
}

/** How many labels one sheet, or one stretch of a roll, holds. */
export const labelsOn = ({ media }: Stock): number =>
  media.kind === "sheet" ? media.columns * media.rows : 1;

/** The paper of one page in millimetres; a continuous roll's page is as long as its label. */
export function paperOf({ media, label }: Stock): { width: number; height: number } {
  if (media.kind === "sheet") return media.paper;
  const height = media.length === "continuous" ? label.height : media.length;
  return { width: media.width, height };
}

/** The upper left corners of a page's labels in reading order: along each row, then down. */
function corners({ media, label }: Stock): { x: number; y: number }[] {
  if (media.kind === "roll") return [{ x: (media.width - label.width) / 2, y: 0 }];
  const { margin, pitch, columns, rows } = media;
  return Array.from({ length: columns * rows }, (_, index) => ({
    x: margin.left + (index % columns) * pitch.across,
    y: margin.top + Math.floor(index / columns) * pitch.down,
  }));
}

/** A sheet may sit this far off in the printer before ink touches the neighbouring label. */
const CLEAR_IN_LABEL = 2;
/** Narrow ribbon keeps a twentieth of its width; it is cut along one line, not met by a die. */
const CLEAR_SHARE = 20;
/** Ordinary printers cannot print nearer to the paper's edge than this. */
const CLEAR_ON_PAPER = 5;
/** Paper around a string hole that stays free of ink, so that a worn edge costs no letter. */
const CLEAR_AROUND_HOLE = 1.5;

/** The part of one label, placed at x, y, that may carry ink, from the label's own corner. */
function clearAt(stock: Stock, x: number, y: number): Box {
  const { media, label, hole } = stock;
  const inset = Math.min(CLEAR_IN_LABEL, label.width / CLEAR_SHARE);
  const paper = paperOf(stock);
  const edge =
    media.kind === "sheet"
      ? { across: CLEAR_ON_PAPER, down: CLEAR_ON_PAPER }
      : { across: (media.width - media.printable) / 2, down: inset };
  const clear = {
    left: Math.max(inset, edge.across - x),
    top: Math.max(inset, edge.down - y),
    right: Math.min(label.width - inset, paper.width - edge.across - x),
    bottom: Math.min(label.height - inset, paper.height - edge.down - y),
  };
  return hole === undefined ? clear : largestBeside(clear, hole);
}

/** The largest of the four rectangles that lie wholly on one side of the hole. */
function largestBeside(clear: Box, { x, y, diameter }: Hole): Box {
  const reach = diameter / 2 + CLEAR_AROUND_HOLE;
  const sides: Box[] = [
    { ...clear, top: Math.max(clear.top, y + reach) },
    { ...clear, bottom: Math.min(clear.bottom, y - reach) },
    { ...clear, left: Math.max(clear.left, x + reach) },
    { ...clear, right: Math.min(clear.right, x - reach) },
  ];
  const area = (box: Box) => Math.max(0, box.right - box.left) * (box.bottom - box.top);
  return sides.reduce((best, side) => (area(side) > area(best) ? side : best));
}

const widthOf = ({ left, right }: Box): number => right - left;
const heightOf = ({ top, bottom }: Box): number => bottom - top;

/**
 * The clear part of every label of a page, from the labels' own corners. All are as large as the
 * least lucky label's at the paper's edge, so that all labels look alike and a label that fits one
 * place fits every place; each lies in the middle of what its own place allows.
 */
function clearParts(stock: Stock): Box[] {
  const rooms = corners(stock).map(({ x, y }) => clearAt(stock, x, y));
  const width = Math.min(...rooms.map(widthOf));
  const height = Math.min(...rooms.map(heightOf));
  return rooms.map((room) => {
    const left = room.left + (widthOf(room) - width) / 2;
    const top = room.top + (heightOf(room) - height) / 2;
    return { left, top, right: left + width, bottom: top + height };
  });
}

/** The clear part of the label in the middle of a page, which the others are moved copies of. */
export function clearPart(stock: Stock): Box {
  const parts = clearParts(stock);
  return parts[Math.floor(parts.length / 2)]!;
}

/** White between the clear part and the label's right edge that every label of a page has. */
export const clearBeside = (stock: Stock): number =>
  Math.min(...clearParts(stock).map(({ right }) => stock.label.width - right));

/** The places of a page's labels, in reading order. */
export function cells(stock: Stock): Cell[] {
  const parts = clearParts(stock);
  return corners(stock).map(({ x, y }, index) => {
    const part = parts[index]!;
    const clear = {
      left: x + part.left,
      top: y + part.top,
      right: x + part.right,
      bottom: y + part.bottom,
    };
    return { x, y, ...stock.label, clear };
  });
}
