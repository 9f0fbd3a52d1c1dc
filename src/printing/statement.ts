import { setImmediate as letOthersRun } from "node:timers/promises";
import { closeDocument, openDocument } from "./document.ts";
import { type Area, Flow } from "./flow.ts";
import { type Faces, openFaces } from "./fonts.ts";
import { toPoints } from "./lengths.ts";
import { drawBody } from "./statement-body.ts";
import type { StatementData } from "./statement-data.ts";
import { drawHead, drawShortHead } from "./statement-head.ts";
import { shorten, tidy } from "./text-fit.ts";

export type { Payout, StatementData, StatementLine, UnsoldLine } from "./statement-data.ts";

/** Paper sizes in millimetres. */
const papers = {
  letter: { width: 215.9, height: 279.4 },
  a4: { width: 210, height: 297 },
} as const;

export type PaperName = keyof typeof papers;

export interface StatementOptions {
  paper: PaperName;
  createdAt: Date;
}

const MARGIN = toPoints(16);
const FOOT_SIZE = 8;
/** Between the lowest row and the line that numbers the page. */
const FOOT_GAP = 18;

/** Each member's statement starts on a page of its own and counts its own pages. */
export async function printStatements(
  statements: readonly StatementData[],
  { paper, createdAt }: StatementOptions,
): Promise<Uint8Array> {
  const [first] = statements;
  if (first === undefined) throw new RangeError("There is no statement to print.");
  const only = statements.length === 1 ? ` ${first.statementNumber}` : "s";
  const document = openDocument({
    title: `Statement${only}, ${first.saleName}`,
    author: first.guildName,
    createdAt,
  });
  const faces = openFaces(document);
  const width = toPoints(papers[paper].width);
  const height = toPoints(papers[paper].height);
  const area = { left: MARGIN, top: MARGIN, right: width - MARGIN, bottom: height - MARGIN };
  for (const data of statements) {
    for (const page of layOut(faces, area, data).pages) page.print(document, width, height);
    // A thousand statements take seconds, and the tills must not wait for them.
    await letOthersRun();
  }
  return closeDocument(document);
}

export const printStatement = (
  statement: StatementData,
  options: StatementOptions,
): Promise<Uint8Array> => printStatements([statement], options);

function layOut(faces: Faces, paperArea: Area, data: StatementData): Flow {
  const area = { ...paperArea, bottom: paperArea.bottom - FOOT_GAP };
  const flow = new Flow(faces, area, (started) => drawShortHead(started, data));
  drawHead(flow, data);
  drawBody(flow, data);
  flow.pages.forEach((ink, index) => {
    const count = `page ${index + 1} of ${flow.pages.length}`;
    const x = area.right - faces.regular.width(count, FOOT_SIZE);
    const named = tidy(`Statement ${data.statementNumber} · ${data.saleName}`);
    const shown = shorten(faces.regular, named, FOOT_SIZE, x - area.left - 10);
    ink.text(faces.regular, FOOT_SIZE, area.left, paperArea.bottom, shown);
    ink.text(faces.regular, FOOT_SIZE, x, paperArea.bottom, count);
  });
  return flow;
}
