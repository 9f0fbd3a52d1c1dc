import { type Flow, LEADING } from "./flow.ts";
import type { StatementData } from "./statement-data.ts";
import { type Column, drawTable } from "./table.ts";
import { tidy, wrap } from "./text-fit.ts";

const soldColumns: Column[] = [
  { heading: "Sold on", align: "left" },
  { heading: "Tag", align: "left" },
  { heading: "Piece", align: "left", wide: true },
  { heading: "Quantity", align: "right" },
  { heading: "Amount", align: "right" },
  { heading: "Rate", align: "right" },
  { heading: "Guild share", align: "right" },
  { heading: "Yours", align: "right" },
];

const unsoldColumns: Column[] = [
  { heading: "Tag", align: "left" },
  { heading: "Piece", align: "left", wide: true },
  { heading: "Quantity", align: "right" },
  { heading: "Price", align: "right" },
];

/** What sold with its totals, what did not sell, and what the figures mean. */
export function drawBody(flow: Flow, data: StatementData): void {
  drawSold(flow, data);
  if (data.unsold.length > 0) drawUnsold(flow, data);
  if (data.notes.length > 0) drawNotes(flow, data.notes);
}

/** A heading needs so much height with what follows, so that it never ends a page. */
const WITH_TABLE = 76;
const WITH_NOTE = 48;

function drawHeading(flow: Flow, text: string, height: number): void {
  flow.need(height);
  flow.ink.text(flow.faces.bold, 11, flow.area.left, flow.y + 11, text);
  flow.space(20);
}

function drawSold(flow: Flow, { lines, totals }: StatementData): void {
  drawHeading(flow, "What sold", WITH_TABLE);
  if (lines.length === 0) {
    flow.paragraph(flow.faces.regular, 9, "None of your pieces sold at this sale.");
    flow.space(14);
    return;
  }
  const rows = lines.map((line) => [
    line.soldOn,
    line.tag,
    line.description,
    line.quantity,
    line.amount,
    line.rate,
    line.guildShare,
    line.net,
  ]);
  const closing = ["", "", "Together", "", totals.gross, "", totals.guildShare, totals.net];
  drawTable(flow, { columns: soldColumns, rows, totals: closing });
  flow.space(16);
}

function drawUnsold(flow: Flow, { unsold }: StatementData): void {
  drawHeading(flow, "What did not sell", WITH_TABLE);
  const rows = unsold.map((line) => [line.tag, line.description, line.quantity, line.price]);
  drawTable(flow, { columns: unsoldColumns, rows });
  flow.space(16);
}

function drawNotes(flow: Flow, notes: string[]): void {
  const { regular } = flow.faces;
  drawHeading(flow, "What the figures mean", WITH_NOTE);
  for (const note of notes) {
    const text = tidy(note);
    const lines = wrap(regular, text, NOTE_SIZE, flow.width).length;
    // Two lines at least stay together, so that no page starts with the tail of a sentence.
    flow.need(Math.min(lines, 2) * LEADING * NOTE_SIZE);
    flow.paragraph(regular, NOTE_SIZE, text);
    flow.space(3);
  }
}

const NOTE_SIZE = 8.5;
