import type { Flow } from "./flow.ts";
import type { Face } from "./fonts.ts";
import { SMALLEST_TEXT } from "./lengths.ts";
import { HAIRLINE, INK } from "./look.ts";
import { keepLines, shorten, sizeFor, tidy, wrap } from "./text-fit.ts";

export interface Column {
  heading: string;
  align: "left" | "right";
  /** The one column that takes the width the others leave and may run over several lines. */
  wide?: boolean;
}

export interface Table {
  columns: Column[];
  rows: string[][];
  /** A closing row in bold; empty texts leave their place empty. */
  totals?: string[];
}

const SIZE = 8.5;
const HEADING_SIZE = 7.5;
const LINE = 10.8;
const PADDING = 2.2;
const HEADING_HEIGHT = 14;
const GAP = 7;
const MOST_LINES = 3;
/** The wide column keeps at least this part of the table's width. */
const WIDE_SHARE = 0.2;

interface Grid {
  table: Table;
  lefts: number[];
  widths: number[];
}

interface Row {
  cells: string[][];
  height: number;
}

/**
 * A table that repeats its head on every page. The totals never stand alone: at least the last two
 * rows go with them, and a head is never left without two rows under it.
 */
export function drawTable(flow: Flow, table: Table): void {
  const grid = gridOf(flow, table);
  const rows = table.rows.map((cells) => setRow(flow, grid, cells));
  const totalsHeight = table.totals === undefined ? 0 : LINE + 3 * paddingOf(flow);
  flow.need(HEADING_HEIGHT + heightFrom(rows, 0, 2) + (rows.length <= 2 ? totalsHeight : 0));
  drawHeadings(flow, grid);
  rows.forEach((row, index) => {
    const left = rows.length - index;
    const together = left <= 2 ? heightFrom(rows, index, 2) + totalsHeight : row.height;
    if (index > 0 && left !== 1 && flow.room < together) {
      flow.newPage();
      drawHeadings(flow, grid);
    }
    drawRow(flow, grid, row);
  });
  if (table.totals !== undefined) drawTotals(flow, grid, table.totals);
}

const paddingOf = (flow: Flow): number => PADDING * flow.closeness;

const heightFrom = (rows: Row[], start: number, count: number): number =>
  rows.slice(start, start + count).reduce((sum, row) => sum + row.height, 0);

function gridOf(flow: Flow, table: Table): Grid {
  const { regular, bold } = flow.faces;
  const needed = table.columns.map(({ heading }, index) => {
    const cells = table.rows.map((row) => regular.width(tidy(row[index] ?? ""), SIZE));
    const totals = bold.width(tidy(table.totals?.[index] ?? ""), SIZE);
    return Math.max(bold.width(heading, HEADING_SIZE), totals, largest(cells));
  });
  const gaps = GAP * (table.columns.length - 1);
  const fixed = needed.reduce((sum, width, i) => sum + (table.columns[i]!.wide ? 0 : width), 0);
  const most = flow.width * (1 - WIDE_SHARE) - gaps;
  const scale = Math.min(1, most / fixed);
  const wide = flow.width - gaps - fixed * scale;
  const widths = needed.map((width, i) => (table.columns[i]!.wide ? wide : width * scale));
  let x = flow.area.left;
  const lefts = widths.map((width) => {
    const left = x;
    x += width + GAP;
    return left;
  });
  return { table, lefts, widths };
}

/** A loop, because spreading thousands of values into one call overflows the stack. */
const largest = (values: number[]): number =>
  values.reduce((most, value) => Math.max(most, value), 0);

function setRow(flow: Flow, { table, widths }: Grid, cells: string[]): Row {
  const { regular } = flow.faces;
  const set = table.columns.map(({ wide }, index) => {
    const text = tidy(cells[index] ?? "");
    const width = widths[index]!;
    if (!wide) return [text];
    return keepLines(regular, wrap(regular, text, SIZE, width), SIZE, width, MOST_LINES);
  });
  const lines = largest(set.map((one) => one.length));
  return { cells: set, height: Math.max(1, lines) * LINE + 2 * paddingOf(flow) };
}

function drawHeadings(flow: Flow, grid: Grid): void {
  const baseline = flow.y + HEADING_SIZE + 1;
  grid.table.columns.forEach(({ heading }, index) => {
    drawCell(flow, grid, index, flow.faces.bold, HEADING_SIZE, baseline, heading);
  });
  flow.space(HEADING_HEIGHT);
  flow.ink.rule(flow.area.left, flow.y, flow.width, 0.8);
}

function drawRow(flow: Flow, grid: Grid, row: Row): void {
  row.cells.forEach((lines, index) => {
    lines.forEach((line, number) => {
      const baseline = flow.y + paddingOf(flow) + number * LINE + SIZE;
      drawCell(flow, grid, index, flow.faces.regular, SIZE, baseline, line);
    });
  });
  flow.space(row.height);
  flow.ink.color(HAIRLINE);
  flow.ink.rule(flow.area.left, flow.y, flow.width, 0.4);
  flow.ink.color(INK);
}

function drawTotals(flow: Flow, grid: Grid, totals: string[]): void {
  flow.ink.rule(flow.area.left, flow.y, flow.width, 0.8);
  const baseline = flow.y + 2 * paddingOf(flow) + SIZE;
  totals.forEach((text, index) => {
    drawCell(flow, grid, index, flow.faces.bold, SIZE, baseline, tidy(text));
  });
  flow.space(LINE + 3 * paddingOf(flow));
}

/** Figures shrink to their column rather than lose a digit; only words are ever shortened. */
function drawCell(
  flow: Flow,
  grid: Grid,
  index: number,
  face: Face,
  size: number,
  baseline: number,
  text: string,
): void {
  if (text === "") return;
  const { align, wide } = grid.table.columns[index]!;
  // The column was made exactly this wide, so a hair is added against rounding in the division.
  const room = grid.widths[index]! + 0.01;
  const fitted = wide ? size : sizeFor(face, text, room, size, SMALLEST_TEXT);
  const shown = wide ? shorten(face, text, size, room) : text;
  const left = grid.lefts[index]!;
  const x = align === "left" ? left : left + grid.widths[index]! - face.width(shown, fitted);
  flow.ink.text(face, fitted, x, baseline, shown);
}
