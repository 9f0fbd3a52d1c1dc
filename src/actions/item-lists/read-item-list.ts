import { itemShape } from "../../contract/item.ts";
import { unguarded } from "../../rules/csv.ts";
import { parseMoney } from "../../rules/currency.ts";
import type { ItemDetails } from "../../rules/item.ts";
import { readKind, readWhole, readYesNo } from "../../rules/item-list/cell-words.ts";
import {
  columnWords,
  isMendHeading,
  type ListColumn,
  listColumns,
  mostListRows,
  neededColumns,
  readHeading,
} from "../../rules/item-list/columns.ts";
import { readFibreWords } from "../../rules/item-list/fibre-words.ts";
import { emptyDetails } from "../../rules/labels/details.ts";
import { type FieldError, ok, type Result, refuse, refuseField } from "../../rules/problem.ts";
import { parseHours } from "../../rules/work-hours.ts";
import { type Cells, splitRows } from "../split-rows.ts";

/** What the member notes for one piece; undefined for an empty cell. */
export interface Making {
  minutes: number | undefined;
  materials: number | undefined;
}

export interface ReadRow {
  row: number;
  /** The cells by column. */
  cells: Partial<Record<ListColumn, string>>;
  /** The cells as they came, for the file of rows to mend. */
  record: string[];
  item: ItemDetails;
  making: Making;
  faults: FieldError[];
}

export interface ReadList {
  /** The headings as they came, without the one that our own file of rows to mend adds. */
  headings: string[];
  rows: ReadRow[];
  ignored: string[];
}

interface Guild {
  currency: string;
  kinds: readonly { code: string; name: string }[];
}

/** Reads a list of pieces from text, row by row; what is wrong with a row stands beside it. */
export function readItemList(text: string, guild: Guild): Result<ReadList> {
  const cells = splitRows(text);
  if (!cells.ok) return cells;
  const [head, ...body] = cells.value;
  const headings = head?.record ?? [];
  const columns = headings.map((word) => readHeading(word));
  const usable = checkHeadings(headings, columns);
  if (!usable.ok) return usable;
  if (body.length === 0)
    return refuseField("text", "The list has headings and no rows. Add one row for each piece.");
  if (body.length > mostListRows)
    return refuse(
      "limit-reached",
      `This list has ${body.length} rows; one list can have ${mostListRows}. Split it and send the parts one after the other.`,
    );
  const own = headings.map((word) => !isMendHeading(word));
  const rows = body.map((row) =>
    readRow({ ...row, record: row.record.map(unguarded) }, columns, guild),
  );
  return ok({
    headings: headings.filter((_word, index) => own[index]),
    rows: rows.map((row) => ({
      ...row,
      record: headings.flatMap((_word, index) => (own[index] ? [row.record[index] ?? ""] : [])),
    })),
    ignored: headings.filter(
      (word, index) => word !== "" && own[index] && columns[index] === undefined,
    ),
  });
}

type Columns = readonly (ListColumn | undefined)[];

function checkHeadings(headings: readonly string[], columns: Columns): Result<true> {
  const missing = neededColumns.filter((column) => !columns.includes(column));
  if (missing.length > 0) {
    const names = missing.map((column) => columnWords[column].heading).join(", ");
    return refuseField(
      "text",
      `The first line must name the columns, and these are missing: ${names}. The starter file shows how.`,
    );
  }
  const twice = columns.findIndex(
    (column, index) => column !== undefined && columns.indexOf(column) < index,
  );
  if (twice === -1) return ok(true);
  const first = headings[columns.indexOf(columns[twice])];
  return refuseField(
    "text",
    `The columns “${first}” and “${headings[twice]}” mean the same. Keep one of them.`,
  );
}

function readRow({ row, record }: Cells, columns: Columns, guild: Guild): ReadRow {
  const cell = (column: ListColumn): string => record[columns.indexOf(column)] ?? "";
  const { item, making, faults } = readCells(cell, guild);
  const shape = itemShape.safeParse(item);
  const overflow = record.slice(columns.length).some((extra) => extra !== "");
  const errors = [
    ...(overflow ? [tooManyCells] : []),
    ...faults,
    ...(shape.error?.issues ?? []).map(({ path, message }) => ({
      field: path.join("."),
      message,
    })),
  ];
  const said = listColumns.filter((column) => cell(column) !== "");
  const cells = Object.fromEntries(said.map((column) => [column, cell(column)]));
  return { row, cells, record, item, making, faults: firstOfEach(errors) };
}

const tooManyCells: FieldError = {
  field: "row",
  message:
    "It has more cells than the first line has headings. Put a cell with a comma in it in quotation marks.",
};

function readCells(cell: (column: ListColumn) => string, { currency, kinds }: Guild) {
  const kind = readKind(cell("kind"), kinds);
  const fibres = readFibreWords(cell("fibres"));
  const price = parseMoney(cell("price"), currency, "price");
  const quantity = readWhole(cell("quantity"), "quantity");
  const piecesInSet = readWhole(cell("piecesInSet"), "piecesInSet");
  const donated = readYesNo(cell("donated"), "donated");
  const markdown = readYesNo(cell("markdown"), "markdown");
  const minutes = noteOf(cell("minutes"), (text) => parseHours(text, "minutes"));
  const materials = noteOf(cell("materials"), (text) => parseMoney(text, currency, "materials"));
  const item: ItemDetails = {
    kind: kind ?? "",
    description: cell("description"),
    technique: cell("technique"),
    fibres: fibres.message === undefined ? fibres.fibres : [],
    size: cell("size"),
    colours: cell("colours"),
    label: emptyDetails,
    price: orElse(price, 0),
    quantity: orElse(quantity, 0),
    piecesInSet: orElse(piecesInSet, 0),
    donated: orElse(donated, false),
    markdown: orElse(markdown, false),
  };
  const read = [price, quantity, piecesInSet, donated, markdown, minutes, materials];
  const faults = [
    ...(kind === undefined ? [strangeKind(cell("kind"), kinds)] : []),
    ...(fibres.message === undefined ? [] : [{ field: "fibres", message: fibres.message }]),
    ...read.flatMap((one) => (one.ok ? [] : one.problem.errors)),
  ];
  const making = {
    minutes: orElse<number | undefined>(minutes, undefined),
    materials: orElse<number | undefined>(materials, undefined),
  };
  return { item, making, faults };
}

const orElse = <T>(read: Result<T>, otherwise: T): T => (read.ok ? read.value : otherwise);

const noteOf = (
  text: string,
  read: (text: string) => Result<number>,
): Result<number | undefined> => (text === "" ? ok(undefined) : read(text));

function strangeKind(text: string, kinds: Guild["kinds"]): FieldError {
  const names = kinds.map(({ name }) => name).join(", ");
  const what = text === "" ? "Say what kind of piece it is" : `“${text}” is no kind of this guild`;
  return { field: "kind", message: `${what}. Use one of: ${names}.` };
}

/** Keeps the first fault of each cell: a second one would only make the first harder to read. */
export function firstOfEach(errors: readonly FieldError[]): FieldError[] {
  const columns = errors.map(({ field, message }) => ({ field: columnOf(field), message }));
  return columns.filter(
    ({ field }, index) => columns.findIndex((other) => other.field === field) === index,
  );
}

/** "fibres.1.percent" stands in the cell of the fibres. */
const columnOf = (field: string): string => field.split(".")[0] ?? field;
