import { type ShiftInput, type ShiftRow, shiftShape } from "../../contract/shift.ts";
import { ok, type Result, refuse } from "../../rules/problem.ts";
import { readDay, readTime } from "../../rules/shifts/typed-time.ts";
import { type Cells, splitRows } from "../split-rows.ts";

/** The most rows at once: far more than a sale has shifts, and little enough for one page. */
const mostRows = 500;

/** A row as it was typed; `input` is there when each of its cells could be read. */
export interface ReadRow {
  row: ShiftRow;
  input: ShiftInput | undefined;
}

/** Reads pasted rows of member number, day, start, end, task and stand-in, one by one. */
export function readShiftList(text: string, locale: string): Result<ReadRow[]> {
  const split = splitRows(text);
  if (!split.ok) return split;
  const [first, ...others] = split.value;
  // A first row without any figure in its first cell holds the names of the columns.
  const rows = first && !/\d/.test(first.record[0] ?? "") ? others : split.value;
  if (rows.length > mostRows)
    return refuse(
      "limit-reached",
      `These are ${rows.length} rows; at most ${mostRows} go at once. Paste them in several parts.`,
    );
  return ok(rows.map((row) => readRow(row, locale)));
}

const wanted: Record<string, string> = {
  member: "The first column needs the member's number",
  day: "The second column needs the day, such as 2026-11-27",
  start: "The third column needs the start, such as 9:00 or 1 pm",
  end: "The fourth column needs the end, such as 12:30",
};

function readRow({ record, row: number }: Cells, locale: string): ReadRow {
  const [member = "", day = "", start = "", end = "", task = "", standIn = ""] = record;
  const typed = { member, day, start, end, task, standIn };
  const read = shiftShape.safeParse({
    member: /^#?\d{1,4}$/.test(member) ? Number(member.replace("#", "")) : undefined,
    day: readDay(day, locale),
    start: readTime(start),
    end: readTime(end),
    task,
    standIn,
  });
  const messages = new Map<string, string>();
  for (const { path, message } of read.error?.issues ?? []) {
    const cell = String(path[0]);
    if (!messages.has(cell)) messages.set(cell, wanted[cell] ?? message);
  }
  const row = { line: number, ...typed, problems: [...messages.values()] };
  return { row, input: read.data };
}
