import { closeDocument, openDocument } from "./document.ts";
import { Flow, LEADING } from "./flow.ts";
import { openFaces } from "./fonts.ts";
import { drawBorder, drawPair, small } from "./head-parts.ts";
import { INK } from "./look.ts";
import { aboveFoot, drawFeet, type SheetOptions, sheetOf } from "./sheet.ts";
import { type Column, drawTable } from "./table.ts";
import { tidy, wrap } from "./text-fit.ts";

/** What stands at the top of a paper about one till. */
export interface TillPaperHead {
  title: string;
  guildName: string;
  guildLines: string[];
  saleName: string;
  saleDates: string;
  /** "Till 2, by the door" */
  till: string;
  /** When it was cashed up. */
  at: string;
}

/** A paper about one till: its head, what `draw` puts under it, and numbered pages. */
export async function printTillPaper(
  head: TillPaperHead,
  { paper, createdAt }: SheetOptions,
  draw: (flow: Flow) => void,
): Promise<Uint8Array> {
  const named = `${head.title}, ${head.till}, ${head.saleName}`;
  const document = openDocument({ title: named, author: head.guildName, createdAt });
  const { width, height, area } = sheetOf(paper);
  const flow = new Flow(openFaces(document), aboveFoot(area), (started) => {
    started.ink.color(INK);
    const { regular } = started.faces;
    drawPair(started, small(regular, [head.guildName]), small(regular, [head.till]));
    underHead(started);
  });
  drawHead(flow, head);
  draw(flow);
  drawFeet(flow, area, named);
  for (const page of flow.pages) page.print(document, width, height);
  return closeDocument(document);
}

function drawHead(flow: Flow, head: TillPaperHead): void {
  const { regular, bold } = flow.faces;
  flow.ink.color(INK);
  drawPair(
    flow,
    [{ face: bold, size: 14, text: head.guildName }, ...small(regular, head.guildLines)],
    [{ face: bold, size: 14, text: head.title }, ...small(regular, [head.till, head.at])],
  );
  flow.space(4);
  drawPair(flow, [{ face: bold, size: 11, text: head.saleName }], small(regular, [head.saleDates]));
  underHead(flow);
}

function underHead(flow: Flow): void {
  flow.space(6);
  drawBorder(flow);
  flow.space(12);
}

/** A heading with its table; nothing at all without rows. */
export function drawSection(
  flow: Flow,
  heading: string,
  columns: Column[],
  rows: string[][],
  totals?: string[],
): void {
  if (rows.length === 0) return;
  drawHeading(flow, heading);
  drawTable(flow, { columns, rows, ...(totals ? { totals } : {}) });
  flow.space(14);
}

/** Height enough for what follows, so that a heading never ends a page. */
const WITH_ROWS = 76;

function drawHeading(flow: Flow, text: string): void {
  flow.need(WITH_ROWS);
  flow.ink.text(flow.faces.bold, 11, flow.area.left, flow.y + 11, text);
  flow.space(20);
}

/** Labels in bold with their words beside them, over as many lines as they take. */
export function drawFacts(flow: Flow, facts: readonly { label: string; value: string }[]): void {
  const { regular, bold } = flow.faces;
  for (const { label, value } of facts) {
    const lines = wrap(regular, tidy(value), FACT_SIZE, flow.width - FACT_INDENT);
    lines.forEach((line, index) => {
      flow.need(LEADING * FACT_SIZE);
      const baseline = flow.y + FACT_SIZE;
      if (index === 0) flow.ink.text(bold, FACT_SIZE, flow.area.left, baseline, label);
      flow.ink.text(regular, FACT_SIZE, flow.area.left + FACT_INDENT, baseline, line);
      flow.space(LEADING * FACT_SIZE);
    });
  }
  flow.space(12);
}

const FACT_SIZE = 9.5;
const FACT_INDENT = 110;

/** A line for each name to sign on; they never part from each other. */
export function drawSignatures(flow: Flow, names: readonly string[]): void {
  flow.need(SIGNATURE_HEIGHT);
  const width = flow.width / names.length - SIGNATURE_GAP;
  const y = flow.y + SIGNATURE_HEIGHT - 16;
  names.forEach((name, index) => {
    const x = flow.area.left + index * (width + SIGNATURE_GAP);
    flow.ink.rule(x, y, width, 0.8);
    flow.ink.text(flow.faces.regular, 9, x, y + 12, tidy(name));
  });
  flow.space(SIGNATURE_HEIGHT);
}

const SIGNATURE_HEIGHT = 64;
const SIGNATURE_GAP = 24;
