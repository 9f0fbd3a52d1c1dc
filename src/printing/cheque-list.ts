import { type Flow, LEADING } from "./flow.ts";
import { HAIRLINE, INK } from "./look.ts";
import { drawEnds, printRunPaper, type RunPaperHead } from "./run-paper.ts";
import type { SheetOptions } from "./sheet.ts";
import { shorten, tidy, wrap } from "./text-fit.ts";

/** One cheque to be written; every text is ready to print. */
export interface ChequeToWrite {
  number: string;
  payee: string;
  /** "Statement 12, member 104" */
  about: string;
  amount: string;
  words: string;
}

/** The list from which cheques are written or checked. The same run gives the same bytes. */
export const printChequeList = (
  head: RunPaperHead,
  cheques: readonly ChequeToWrite[],
  options: SheetOptions,
): Promise<Uint8Array> =>
  printRunPaper(head, options, (flow) => {
    for (const cheque of cheques) drawCheque(flow, cheque);
  });

const SIZE = 11;
const SMALL = 9.5;
/** Between the number of a cheque and what belongs to it. */
const INDENT = 84;

/** Number, payee and figures on one line, the words under them; a cheque never breaks over pages. */
function drawCheque(flow: Flow, cheque: ChequeToWrite): void {
  const { regular, bold } = flow.faces;
  const lines = wrap(regular, tidy(cheque.words), SMALL, flow.width - INDENT);
  const height = LEADING * (SIZE + SMALL * (lines.length + 1)) + 12;
  flow.need(height);
  drawEnds(flow, SIZE, cheque.number, cheque.amount);
  const left = flow.area.left + INDENT;
  const room = flow.width - INDENT - bold.width(tidy(cheque.amount), SIZE) - 12;
  flow.ink.text(bold, SIZE, left, flow.y + SIZE, shorten(bold, tidy(cheque.payee), SIZE, room));
  flow.space(LEADING * SIZE);
  for (const line of [...lines, tidy(cheque.about)]) {
    flow.ink.text(regular, SMALL, left, flow.y + SMALL, line);
    flow.space(LEADING * SMALL);
  }
  flow.space(6);
  flow.ink.color(HAIRLINE);
  flow.ink.rule(flow.area.left, flow.y, flow.width, 0.4);
  flow.ink.color(INK);
  flow.space(6);
}
