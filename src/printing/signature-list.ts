import type { Flow } from "./flow.ts";
import { drawEnds, printRunPaper, type RunPaperHead } from "./run-paper.ts";
import type { SheetOptions } from "./sheet.ts";
import { shorten, tidy } from "./text-fit.ts";
import { drawSignatures } from "./till-paper.ts";

/** One member who takes cash; every text is ready to print. */
export interface CashToSign {
  /** "104 Ada Weaver" */
  payee: string;
  amount: string;
}

/** The list on which members sign for cash, with whoever saw it. The same run gives the same bytes. */
export const printSignatureList = (
  head: RunPaperHead,
  rows: readonly CashToSign[],
  options: SheetOptions,
): Promise<Uint8Array> =>
  printRunPaper(head, options, (flow) => {
    flow.paragraph(
      flow.faces.regular,
      9.5,
      "Count the cash in front of the member. The member signs for it, and a second person who saw it signs as witness.",
    );
    flow.space(8);
    for (const row of rows) drawRow(flow, row);
    drawSignatures(flow, ["Paid out by", "Day and time"]);
  });

const SIZE = 10.5;
const ROW = 68;
const CAPTION = 8;
const GAP = 24;

/** Name and amount, and under them a line to sign and one for the witness. */
function drawRow(flow: Flow, { payee, amount }: CashToSign): void {
  const { regular, bold } = flow.faces;
  flow.need(ROW);
  const room = flow.width - bold.width(tidy(amount), SIZE) - 12;
  drawEnds(flow, SIZE, shorten(bold, tidy(payee), SIZE, room), amount);
  const width = (flow.width - GAP) / 2;
  const y = flow.y + 42;
  ["Signature of the member", "Witness"].forEach((caption, index) => {
    const x = flow.area.left + index * (width + GAP);
    flow.ink.rule(x, y, width, 0.6);
    flow.ink.text(regular, CAPTION, x, y + CAPTION + 1, caption);
  });
  flow.space(ROW);
}
