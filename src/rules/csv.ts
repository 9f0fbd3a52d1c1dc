/**
 * One cell: text, a whole number, a figure already written with a point ("-3.20", as `amountText`
 * gives it), or nothing.
 */
export type CsvCell = string | number | { figure: string } | null;

/** What a spreadsheet takes for the start of a formula (CWE-1236; OWASP ASVS 5.0, 1.2.10). */
const startsFormula = /^'*[=+\-@\t\r\n\0]/;

/**
 * Rows as CSV by RFC 4180: commas, CRLF after every row, quotes where they are needed. A text that
 * a spreadsheet would run as a formula gets an apostrophe in front; figures stay as they are, so a
 * minus stays a minus. To be sent as UTF-8. Throws when rows differ in length or a figure is none.
 */
export function csvText(rows: readonly (readonly CsvCell[])[]): string {
  const width = rows[0]?.length ?? 0;
  return rows
    .map((row) => {
      if (row.length !== width || width === 0)
        throw new RangeError(`A row has ${row.length} cells instead of ${width}`);
      const line = row.map(cellText).join(",");
      // An empty line is no row to most readers.
      return `${line === "" ? '""' : line}\r\n`;
    })
    .join("");
}

/** Takes the apostrophe off again that `csvText` put in front of a text. */
export const unguarded = (text: string): string =>
  text.startsWith("'") && startsFormula.test(text) ? text.slice(1) : text;

function cellText(cell: CsvCell): string {
  if (cell === null) return "";
  if (typeof cell === "string") return quoted(startsFormula.test(cell) ? `'${cell}` : cell);
  const figure = typeof cell === "number" ? wholeText(cell) : cell.figure;
  if (!/^-?\d+(?:\.\d+)?$/.test(figure)) throw new RangeError(`Not a figure: ${figure}`);
  return figure;
}

function wholeText(number: number): string {
  if (!Number.isSafeInteger(number)) throw new RangeError(`Not a whole number: ${number}`);
  return String(number);
}

/** Spaces at the ends are quoted as well: some readers drop them otherwise. */
const quoted = (text: string): string =>
  /[",\r\n]|^\s|\s$/.test(text) ? `"${text.replaceAll('"', '""')}"` : text;
