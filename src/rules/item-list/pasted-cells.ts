/**
 * Takes apart what a spreadsheet puts on the clipboard: tabs between cells, a line for each row. A
 * cell with a tab, a line end or a quotation mark in it comes in quotation marks, with its own
 * marks doubled; a mark elsewhere in a cell (12" wide) is a letter like any other. Line ends inside
 * a cell become spaces, since a field has one line.
 */
export function pastedCells(text: string): string[][] {
  const rows: string[][] = [[]];
  let rest = text
    .replace(/^\ufeff/, "")
    .replace(/\r\n?/g, "\n")
    .replace(/\n$/, "");
  for (;;) {
    const quoted = /^"((?:[^"]|"")*)"(?=\t|\n|$)/.exec(rest);
    const [taken = ""] = quoted ?? /^[^\t\n]*/.exec(rest) ?? [];
    const cell = quoted ? (quoted[1] ?? "").replaceAll('""', '"') : taken;
    rows.at(-1)?.push(cell.replace(/\s*\n\s*/g, " ").trim());
    const mark = rest[taken.length];
    if (mark === undefined) return rows;
    if (mark === "\n") rows.push([]);
    rest = rest.slice(taken.length + 1);
  }
}
