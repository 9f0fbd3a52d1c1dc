import type { SheetOptions } from "./sheet.ts";
import type { Column } from "./table.ts";
import {
  drawFacts,
  drawSection,
  drawSignatures,
  printTillPaper,
  type TillPaperHead,
} from "./till-paper.ts";

/** One session of a till, from its float to its count; every text is ready to print. */
export interface ClosingSheet {
  head: Omit<TillPaperHead, "title">;
  facts: { label: string; value: string }[];
  tenders: { tender: string; count: string; amount: string }[];
  corrections: { receipt: string; what: string; reason: string; amount: string }[];
  moves: { what: string; reason: string; who: string; amount: string }[];
  /** From the float to what should be in the drawer. */
  cash: { label: string; amount: string }[];
  expected: string;
  counts: { value: string; count: string; amount: string }[];
  counted: string;
  difference: string;
  /** The two who counted. */
  people: string[];
  notes: string[];
}

const tenders: Column[] = [
  { heading: "Paid by", align: "left", wide: true },
  { heading: "Receipts", align: "right" },
  { heading: "Amount", align: "right" },
];
const corrections: Column[] = [
  { heading: "Receipt", align: "left" },
  { heading: "What", align: "left" },
  { heading: "Reason", align: "left", wide: true },
  { heading: "Amount", align: "right" },
];
const moves: Column[] = [
  { heading: "What", align: "left" },
  { heading: "What for", align: "left", wide: true },
  { heading: "Who and when", align: "left" },
  { heading: "Amount", align: "right" },
];
const cash: Column[] = [
  { heading: "Cash in the drawer", align: "left", wide: true },
  { heading: "Amount", align: "right" },
];
export const countColumns: Column[] = [
  { heading: "Note or coin", align: "left", wide: true },
  { heading: "How many", align: "right" },
  { heading: "Amount", align: "right" },
];

export const countRows = (counts: ClosingSheet["counts"]): string[][] =>
  counts.map(({ value, count, amount }) => [value, count, amount]);

/** The difference with the signatures, and a note of a few lines, in points. */
const SIGNED_HEIGHT = 100;
const NOTE_HEIGHT = 40;

/** The closing sheet that the two counters sign. The same session gives the same bytes. */
export const printClosingSheet = (
  sheet: ClosingSheet,
  options: SheetOptions,
): Promise<Uint8Array> =>
  printTillPaper({ ...sheet.head, title: "Closing sheet" }, options, (flow) => {
    drawFacts(flow, sheet.facts);
    const taken = sheet.tenders.map(({ tender, count, amount }) => [tender, count, amount]);
    drawSection(flow, "Taken, returns taken off", tenders, taken);
    const back = sheet.corrections.map((row) => [row.receipt, row.what, row.reason, row.amount]);
    drawSection(flow, "Voids and returns", corrections, back);
    const moved = sheet.moves.map((row) => [row.what, row.reason, row.who, row.amount]);
    drawSection(flow, "Cash in and out without a sale", moves, moved);
    const steps = sheet.cash.map(({ label, amount }) => [label, amount]);
    drawSection(flow, "What should be there", cash, steps, ["Expected", sheet.expected]);
    const total = ["Counted", "", sheet.counted];
    const rows = countRows(sheet.counts);
    const known = rows.length > 0 ? rows : [["Only the sum was typed", "", sheet.counted]];
    drawSection(flow, "What was counted", countColumns, known, total);
    // Whoever signs sees the difference on the same page.
    flow.need(SIGNED_HEIGHT + sheet.notes.length * NOTE_HEIGHT);
    drawFacts(flow, [
      { label: "Difference", value: sheet.difference },
      ...sheet.notes.map((value) => ({ label: "Note", value })),
    ]);
    drawSignatures(flow, sheet.people);
  });
