import { type Flow, LEADING } from "./flow.ts";
import { CAPITAL_HEIGHT, type Face } from "./fonts.ts";
import { SMALLEST_TEXT, toPoints } from "./lengths.ts";
import { DYE, INK } from "./look.ts";
import type { StatementData } from "./statement-data.ts";
import { shorten, sizeFor, tidy } from "./text-fit.ts";

const THREAD = toPoints(0.7);

/** Guild and statement, the woven border, member and sale, and the three figures that matter. */
export function drawHead(flow: Flow, data: StatementData): void {
  const { regular, bold } = flow.faces;
  flow.ink.color(INK);
  drawPair(
    flow,
    [{ face: bold, size: 14, text: data.guildName }, ...small(regular, data.guildLines)],
    [
      { face: bold, size: 14, text: "Statement" },
      ...small(regular, [data.statementNumber, `Issued on ${data.issuedOn}`]),
    ],
  );
  flow.space(8);
  drawBorder(flow);
  flow.space(12);
  drawPair(
    flow,
    [
      { face: bold, size: 12, text: data.memberName },
      ...small(regular, [`Member ${data.memberNumber}`]),
    ],
    [{ face: bold, size: 12, text: data.saleName }, ...small(regular, [data.saleDates])],
  );
  flow.space(16);
  drawFigures(flow, data);
  flow.space(12);
  drawPayout(flow, data);
  flow.space(14);
}

/** One line on further pages says whose statement this is, in case the sheets part. */
export function drawShortHead(flow: Flow, data: StatementData): void {
  const { regular } = flow.faces;
  flow.ink.color(INK);
  const member = `Member ${data.memberNumber}, ${data.memberName}`;
  drawPair(flow, small(regular, [data.guildName]), small(regular, [member]));
  flow.space(4);
  drawBorder(flow);
  flow.space(12);
}

interface Entry {
  face: Face;
  size: number;
  text: string;
}

const small = (face: Face, texts: string[]): Entry[] =>
  texts.map((text) => ({ face, size: 9, text }));

/** Two blocks side by side, the right one set against the right edge. */
function drawPair(flow: Flow, left: Entry[], right: Entry[]): void {
  const { area } = flow;
  const room = { left: flow.width * 0.58, right: flow.width * 0.4 };
  const draw = (entries: Entry[], width: number, toRight: boolean): number => {
    let y = flow.y;
    for (const { face, size, text } of entries) {
      const shown = shorten(face, tidy(text), size, width);
      const x = toRight ? area.right - face.width(shown, size) : area.left;
      if (shown !== "") flow.ink.text(face, size, x, y + size, shown);
      y += LEADING * size;
    }
    return y;
  };
  flow.y = Math.max(draw(left, room.left, false), draw(right, room.right, true));
}

function drawBorder(flow: Flow): void {
  const { ink, area, width } = flow;
  ink.color(DYE);
  ink.weave({ x: area.left, y: flow.y, length: width, thread: THREAD, direction: "across" });
  ink.color(INK);
  flow.space(2 * THREAD);
}

function drawFigures(flow: Flow, { totals }: StatementData): void {
  const { regular, bold } = flow.faces;
  const figures = [
    ["Sold for", totals.gross],
    ["Guild share", totals.guildShare],
    ["Yours", totals.net],
  ] as const;
  const step = flow.width / figures.length;
  const baseline = flow.y + 9 + 8 + CAPITAL_HEIGHT * 18;
  figures.forEach(([label, amount], index) => {
    const x = flow.area.left + index * step;
    const text = tidy(amount);
    const size = sizeFor(bold, text, step - 10, 18, SMALLEST_TEXT);
    flow.ink.text(regular, 9, x, flow.y + 9, label);
    if (text !== "") flow.ink.text(bold, size, x, baseline, text);
  });
  flow.y = baseline + 4;
}

function drawPayout(flow: Flow, { payout }: StatementData): void {
  const text =
    payout === undefined
      ? "No payout is recorded yet."
      : `Paid on ${payout.paidOn} by ${payout.method}, ${payout.reference}: ${payout.amount}`;
  flow.paragraph(flow.faces.regular, 9.5, tidy(text));
}
