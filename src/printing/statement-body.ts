import { type Flow, LEADING } from "./flow.ts";
import type { AccountLine, StatementData, StatementLine } from "./statement-data.ts";
import { type Column, drawTable } from "./table.ts";
import { tidy, wrap } from "./text-fit.ts";

const soldColumns = (hasCardFee: boolean): Column[] => [
  { heading: "Sold on", align: "left" },
  { heading: "Tag", align: "left" },
  { heading: "Piece", align: "left", wide: true },
  { heading: "Quantity", align: "right" },
  { heading: "Amount", align: "right" },
  { heading: "Rate", align: "right" },
  { heading: "Guild share", align: "right" },
  ...(hasCardFee ? [{ heading: "Card fee", align: "right" } as const] : []),
  { heading: "Yours", align: "right" },
];

const unsoldColumns: Column[] = [
  { heading: "Tag", align: "left" },
  { heading: "Piece", align: "left", wide: true },
  { heading: "Quantity", align: "right" },
  { heading: "Price", align: "right" },
];

const accountColumns: Column[] = [
  { heading: "Step", align: "left", wide: true },
  { heading: "Amount", align: "right" },
];

/**
 * What sold with its totals, every other step to what is paid, the year so far, what did not sell,
 * and what the figures mean.
 */
export function drawBody(flow: Flow, data: StatementData): void {
  drawSold(flow, data);
  if (data.account.length > 0) drawAccount(flow, data.account);
  if (data.yearToDate !== "") drawYear(flow, data.yearToDate);
  if (data.unsold.length > 0) drawUnsold(flow, data);
  if (data.notes.length > 0) drawNotes(flow, data.notes);
}

/** A heading needs so much height with what follows, so that it never ends a page. */
const WITH_TABLE = 76;
const WITH_NOTE = 48;
/** A row of the sum and its line. */
const STEP = 15.2;

function drawHeading(flow: Flow, text: string, height: number): void {
  flow.need(height * flow.closeness);
  flow.ink.text(flow.faces.bold, 11, flow.area.left, flow.y + 11, text);
  flow.space(14);
  flow.gap(6);
}

function drawSold(flow: Flow, { lines, totals, grounds }: StatementData): void {
  drawHeading(flow, "What sold", WITH_TABLE);
  if (lines.length === 0) {
    flow.paragraph(flow.faces.regular, 9, "None of your pieces sold at this sale.");
    flow.gap(14);
    return;
  }
  const hasCardFee = totals.cardFee !== "";
  const rows = lines.map((line) => [
    ...[line.soldOn, line.tag, line.description, line.quantity, line.amount, line.rate],
    ...sharesOf(line, hasCardFee),
  ]);
  const closing = ["", "", "Together", "", totals.gross, "", ...sharesOf(totals, hasCardFee)];
  drawTable(flow, { columns: soldColumns(hasCardFee), rows, totals: closing });
  flow.gap(grounds.length > 0 ? 4 : 0);
  for (const ground of grounds) drawNote(flow, ground);
  flow.gap(16);
}

const sharesOf = (
  { guildShare, cardFee, net }: StatementData["totals"] | StatementLine,
  hasCardFee: boolean,
): string[] => [guildShare, ...(hasCardFee ? [cardFee] : []), net];

function drawAccount(flow: Flow, account: AccountLine[]): void {
  // A sum is read as a whole; one that is too long for that breaks like any table.
  drawHeading(flow, "How it adds up", WITH_TABLE + Math.min(account.length, 20) * STEP);
  const rows = account.map(({ words, amount }) => [words, amount]);
  drawTable(flow, { columns: accountColumns, rows: rows.slice(0, -1), totals: rows.at(-1)! });
  flow.gap(16);
}

function drawYear(flow: Flow, words: string): void {
  drawNote(flow, words);
  flow.gap(13);
}

function drawUnsold(flow: Flow, { unsold, unsoldNote }: StatementData): void {
  drawHeading(flow, "What did not sell", WITH_TABLE + (unsoldNote === "" ? 0 : NOTE_LINE));
  if (unsoldNote !== "") drawNote(flow, unsoldNote);
  const rows = unsold.map((line) => [line.tag, line.description, line.quantity, line.price]);
  drawTable(flow, { columns: unsoldColumns, rows });
  flow.gap(16);
}

function drawNotes(flow: Flow, notes: string[]): void {
  drawHeading(flow, "What the figures mean", WITH_NOTE);
  for (const note of notes) drawNote(flow, note);
}

function drawNote(flow: Flow, note: string): void {
  const { regular } = flow.faces;
  const text = tidy(note);
  const lines = wrap(regular, text, NOTE_SIZE, flow.width).length;
  // Two lines at least stay together, so that no page starts with the tail of a sentence.
  flow.need(Math.min(lines, 2) * NOTE_LINE);
  flow.paragraph(regular, NOTE_SIZE, text);
  flow.gap(3);
}

const NOTE_SIZE = 8.5;
const NOTE_LINE = LEADING * NOTE_SIZE;
