import { type ListRow, memberShape } from "../contract/member.ts";
import { type MemberColumn, mostRows, readHeader, readRoles } from "../rules/member-list.ts";
import { ok, type Result, refuse, refuseField } from "../rules/problem.ts";
import { type Cells, splitRows } from "./split-rows.ts";

interface Parsed {
  rows: ListRow[];
  ignored: string[];
}

/** Reads a list of members from text, row by row; what is wrong with a row stands beside it. */
export function readMemberList(text: string): Result<Parsed> {
  const cells = splitRows(text);
  if (!cells.ok) return cells;
  const [head, ...body] = cells.value;
  const columns = (head?.record ?? []).map((word) => readHeader(word));
  if (!columns.some((column) => column === "name" || column === "lastName"))
    return refuseField(
      "text",
      "The first line must name the columns, such as: name, e-mail, phone, roles.",
    );
  if (body.length > mostRows)
    return refuse(
      "limit-reached",
      `This list has ${body.length} rows; one list can have ${mostRows}. Split it and send the parts one after the other.`,
    );
  const ignored = (head?.record ?? []).filter(
    (word, index) => word.trim() !== "" && columns[index] === undefined,
  );
  return ok({ rows: body.map((row) => readRow(row, columns)), ignored });
}

function readRow(row: Cells, columns: (MemberColumn | undefined)[]): ListRow {
  const cell = (column: MemberColumn): string => row.record[columns.indexOf(column)] ?? "";
  const written = {
    name: cell("name") || `${cell("firstName")} ${cell("lastName")}`.trim(),
    email: cell("email"),
    phone: cell("phone"),
  };
  const { roles, stranger } = readRoles(cell("roles"));
  const read = memberShape.safeParse({ ...written, email: written.email || null, roles });
  // One message for each cell: a second one would only make the first harder to read.
  const messages = new Map<string, string>();
  if (stranger !== undefined)
    messages.set(
      "roles",
      `“${stranger}” is no role. Use member, cashier, desk, treasurer or chair`,
    );
  for (const { path, message } of read.error?.issues ?? []) {
    const cellName = String(path[0]);
    if (!messages.has(cellName)) messages.set(cellName, message);
  }
  const clean = read.success ? { ...read.data, email: read.data.email ?? "" } : written;
  return { line: row.row, ...clean, roles, problems: [...messages.values()] };
}
