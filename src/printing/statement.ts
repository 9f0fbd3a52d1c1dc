import { setImmediate as letOthersRun } from "node:timers/promises";
import { closeDocument, openDocument } from "./document.ts";
import { type Area, Flow } from "./flow.ts";
import { type Faces, openFaces } from "./fonts.ts";
import { aboveFoot, drawFeet, type SheetOptions, sheetOf } from "./sheet.ts";
import { drawBody } from "./statement-body.ts";
import type { StatementData } from "./statement-data.ts";
import { drawHead, drawShortHead } from "./statement-head.ts";

export type { PaperName, SheetOptions as StatementOptions } from "./sheet.ts";
export type { StatementData } from "./statement-data.ts";

/** Each member's statement starts on a page of its own and counts its own pages. */
export async function printStatements(
  statements: readonly StatementData[],
  { paper, createdAt }: SheetOptions,
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
  const { width, height, area } = sheetOf(paper);
  for (const data of statements) {
    for (const page of layOut(faces, area, data).pages) page.print(document, width, height);
    // A thousand statements take seconds, and the tills must not wait for them.
    await letOthersRun();
  }
  return closeDocument(document);
}

export const printStatement = (
  statement: StatementData,
  options: SheetOptions,
): Promise<Uint8Array> => printStatements([statement], options);

/** A second page with a few lines on it is lost in a hall: where setting closer saves it, it does. */
function layOut(faces: Faces, area: Area, data: StatementData): Flow {
  const usual = fill(faces, area, data, 1);
  if (!data.closes || usual.pages.length !== 2) return usual;
  const close = fill(faces, area, data, CLOSE);
  return close.pages.length === 1 ? close : usual;
}

const CLOSE = 0.4;

function fill(faces: Faces, area: Area, data: StatementData, closeness: number): Flow {
  const onNewPage = (started: Flow) => drawShortHead(started, data);
  const flow = new Flow(faces, aboveFoot(area), onNewPage, closeness);
  drawHead(flow, data);
  drawBody(flow, data);
  drawFeet(flow, area, `Statement ${data.statementNumber} · ${data.saleName}`);
  return flow;
}
