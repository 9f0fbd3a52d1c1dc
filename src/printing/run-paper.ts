import { closeDocument, openDocument } from "./document.ts";
import { Flow } from "./flow.ts";
import { openFaces } from "./fonts.ts";
import { drawBorder, drawPair, small } from "./head-parts.ts";
import { INK } from "./look.ts";
import { aboveFoot, drawFeet, type SheetOptions, sheetOf } from "./sheet.ts";
import { tidy } from "./text-fit.ts";

/** What stands at the top of a paper about a paying run, or about one member. */
export interface RunPaperHead {
  title: string;
  guildName: string;
  guildLines: string[];
  /** "Paying run 3" or "Member 104 Ada Weaver" */
  run: string;
  /** The sale, or "All sales". */
  about: string;
  day: string;
  /** How many payments, pieces or entries, and perhaps what they come to. */
  sum: string;
}

/** A paper about a paying run: its head, what `draw` puts under it, and numbered pages. */
export async function printRunPaper(
  head: RunPaperHead,
  { paper, createdAt }: SheetOptions,
  draw: (flow: Flow) => void,
): Promise<Uint8Array> {
  const named = `${head.title}, ${head.run}`;
  const document = openDocument({ title: named, author: head.guildName, createdAt });
  const { width, height, area } = sheetOf(paper);
  const flow = new Flow(openFaces(document), aboveFoot(area), (started) => {
    started.ink.color(INK);
    const { regular } = started.faces;
    drawPair(started, small(regular, [head.guildName]), small(regular, [named]));
    underHead(started);
  });
  drawHead(flow, head);
  draw(flow);
  drawFeet(flow, area, `${named}: ${head.sum}`);
  for (const page of flow.pages) page.print(document, width, height);
  return closeDocument(document);
}

function drawHead(flow: Flow, head: RunPaperHead): void {
  const { regular, bold } = flow.faces;
  flow.ink.color(INK);
  drawPair(
    flow,
    [{ face: bold, size: 14, text: head.guildName }, ...small(regular, head.guildLines)],
    [{ face: bold, size: 14, text: head.title }, ...small(regular, [head.run, head.day])],
  );
  flow.space(4);
  drawPair(
    flow,
    [{ face: bold, size: 11, text: head.about }],
    [{ face: bold, size: 11, text: head.sum }],
  );
  underHead(flow);
}

function underHead(flow: Flow): void {
  flow.space(6);
  drawBorder(flow);
  flow.space(12);
}

/** One line with a text at each end; the amount at the right never loses a digit. */
export function drawEnds(flow: Flow, size: number, left: string, right: string): void {
  const { bold } = flow.faces;
  const amount = tidy(right);
  const x = flow.area.right - bold.width(amount, size);
  flow.ink.text(bold, size, flow.area.left, flow.y + size, left);
  flow.ink.text(bold, size, x, flow.y + size, amount);
}
