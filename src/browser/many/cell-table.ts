import { type Cell, isCells, pastedWords, placeCells, stepFrom } from "./paste-cells.ts";

/** What of the page the table works with; without the script it is a plain form. */
export interface CellTable {
  /** The fields, row by row. */
  rows: HTMLInputElement[][];
  said: HTMLElement;
  undo: HTMLButtonElement;
  more: HTMLElement | null;
}

interface Change {
  input: HTMLInputElement;
  before: string;
}

/** Cells of a spreadsheet can be pasted across fields, and the keys go from row to row. */
export function startCellTable(table: CellTable): void {
  let last: Change[] = [];
  const shown = table.rows.map((cells, row) => ({ cells, row }));
  for (const { cells, row } of shown)
    for (const [column, input] of cells.entries()) {
      input.addEventListener("paste", (event) => {
        const text = event.clipboardData?.getData("text/plain") ?? "";
        if (!isCells(text)) return;
        event.preventDefault();
        last = fill(table, text, { row, column });
        table.undo.hidden = false;
      });
      input.addEventListener("keydown", (event) => walk(table, event, { row, column }));
    }
  table.undo.addEventListener("click", () => {
    for (const { input, before } of last) input.value = before;
    last[0]?.input.focus();
    last = [];
    table.undo.hidden = true;
    table.said.textContent = "The paste is undone.";
  });
}

function fill({ rows, said }: CellTable, text: string, from: Cell): Change[] {
  const pasted = placeCells(text, from, { rows: rows.length, columns: rows[0]?.length ?? 0 });
  const changes = pasted.filled.flatMap(({ row, column, text: value }) => {
    const input = rows[row]?.[column];
    if (!input) return [];
    const before = input.value;
    input.value = value;
    // A row that a phone keeps folded must not be entered unseen.
    input.closest("tr")?.classList.remove("spare");
    return [{ input, before }];
  });
  said.textContent = pastedWords(pasted);
  return changes;
}

/** Enter would send a half-filled form; here it goes down, and from the last row to "More rows". */
function walk({ rows, more }: CellTable, event: KeyboardEvent, from: Cell): void {
  if (event.ctrlKey || event.altKey || event.metaKey || event.shiftKey) return;
  const next = stepFrom(event.key, from, rows.length);
  if (next) rows[next.row]?.[next.column]?.focus();
  else if (event.key === "Enter") more?.focus();
  else return;
  event.preventDefault();
}
