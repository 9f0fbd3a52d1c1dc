import { closeDocument, openDocument } from "./document.ts";
import { Flow } from "./flow.ts";
import { openFaces } from "./fonts.ts";
import { drawBorder, drawPair, small } from "./head-parts.ts";
import { INK } from "./look.ts";
import { aboveFoot, drawFeet, type SheetOptions, sheetOf } from "./sheet.ts";
import { tidy } from "./text-fit.ts";

/** A letter about money that waits; every text is ready to print. */
export interface ReminderLetter {
  guildName: string;
  guildLines: string[];
  memberName: string;
  memberLines: string[];
  day: string;
  subject: string;
  paragraphs: string[];
}

/** The letter on one sheet, to fold for a window or to hand over. */
export async function printReminderLetter(
  letter: ReminderLetter,
  { paper, createdAt }: SheetOptions,
): Promise<Uint8Array> {
  const document = openDocument({ title: letter.subject, author: letter.guildName, createdAt });
  const { width, height, area } = sheetOf(paper);
  const flow = new Flow(openFaces(document), aboveFoot(area), () => {});
  const { regular, bold } = flow.faces;
  flow.ink.color(INK);
  drawPair(
    flow,
    [{ face: bold, size: 14, text: letter.guildName }, ...small(regular, letter.guildLines)],
    small(regular, [letter.day]),
  );
  flow.space(6);
  drawBorder(flow);
  flow.space(28);
  drawPair(
    flow,
    [{ face: regular, size: 11, text: letter.memberName }, ...small(regular, letter.memberLines)],
    [],
  );
  flow.space(36);
  flow.paragraph(bold, 12, tidy(letter.subject));
  flow.space(10);
  for (const paragraph of letter.paragraphs) {
    flow.paragraph(regular, 11, tidy(paragraph));
    flow.space(9);
  }
  drawFeet(flow, area, letter.subject);
  for (const page of flow.pages) page.print(document, width, height);
  return closeDocument(document);
}
