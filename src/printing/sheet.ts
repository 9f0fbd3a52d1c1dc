import type { Area, Flow } from "./flow.ts";
import { toPoints } from "./lengths.ts";
import { shorten, tidy } from "./text-fit.ts";

/** Paper sizes in millimetres. */
const papers = {
  letter: { width: 215.9, height: 279.4 },
  a4: { width: 210, height: 297 },
} as const;

export type PaperName = keyof typeof papers;

export interface SheetOptions {
  paper: PaperName;
  createdAt: Date;
}

const MARGIN = toPoints(16);
const FOOT_SIZE = 8;
/** Between the lowest row and the line that numbers the page. */
const FOOT_GAP = 18;

/** A sheet in points, and the part of it inside the margins. */
export function sheetOf(paper: PaperName): { width: number; height: number; area: Area } {
  const width = toPoints(papers[paper].width);
  const height = toPoints(papers[paper].height);
  const area = { left: MARGIN, top: MARGIN, right: width - MARGIN, bottom: height - MARGIN };
  return { width, height, area };
}

export const aboveFoot = (area: Area): Area => ({ ...area, bottom: area.bottom - FOOT_GAP });

/** What the paper is and "page 1 of 2" at the foot of every page. */
export function drawFeet(flow: Flow, area: Area, text: string): void {
  const { regular } = flow.faces;
  flow.pages.forEach((ink, index) => {
    const count = `page ${index + 1} of ${flow.pages.length}`;
    const x = area.right - regular.width(count, FOOT_SIZE);
    const shown = shorten(regular, tidy(text), FOOT_SIZE, x - area.left - 10);
    ink.text(regular, FOOT_SIZE, area.left, area.bottom, shown);
    ink.text(regular, FOOT_SIZE, x, area.bottom, count);
  });
}
