import { pastedCells } from "../../rules/item-list/pasted-cells.ts";

export interface Cell {
  row: number;
  column: number;
}

export interface Pasted {
  filled: (Cell & { text: string })[];
  /** Rows that came and had no room, and columns to the right of the last one. */
  rowsLeft: number;
  columnsLeft: number;
}

/** Whether a text is cells of a spreadsheet and not words for one field. */
export const isCells = (text: string): boolean => /[\t\r\n]/.test(text.replace(/[\r\n]+$/, ""));

/** Where pasted cells go in a table of this size, from the cell in which somebody stands. */
export function placeCells(
  text: string,
  from: Cell,
  size: { rows: number; columns: number },
): Pasted {
  const cells = pastedCells(text);
  const [rows, columns] = [size.rows - from.row, size.columns - from.column];
  const filled = cells.slice(0, rows).flatMap((line, row) =>
    line.slice(0, columns).map((cell, column) => ({
      row: from.row + row,
      column: from.column + column,
      text: cell,
    })),
  );
  const widest = Math.max(...cells.map((line) => line.length));
  return {
    filled,
    rowsLeft: Math.max(0, cells.length - rows),
    columnsLeft: Math.max(0, widest - columns),
  };
}

/** What a screen reader is told after a paste. */
export function pastedWords({ filled, rowsLeft, columnsLeft }: Pasted): string {
  const rows = new Set(filled.map(({ row }) => row)).size;
  const came = rows === 1 ? "1 row is filled in." : `${rows} rows are filled in.`;
  const below =
    rowsLeft === 0
      ? ""
      : ` There was no room for ${rowsLeft} more: press “More rows” and paste those again.`;
  const beside = columnsLeft === 0 ? "" : " Columns beyond the last one were left out.";
  return `${came}${below}${beside}`;
}

/** The cell that a key leads to; undefined when the key means nothing here or there is none. */
export function stepFrom(key: string, from: Cell, rows: number): Cell | undefined {
  const by = key === "ArrowDown" || key === "Enter" ? 1 : key === "ArrowUp" ? -1 : 0;
  const row = from.row + by;
  return by === 0 || row < 0 || row >= rows ? undefined : { ...from, row };
}
