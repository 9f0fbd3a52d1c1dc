import type { Flow } from "./flow.ts";
import { CAPITAL_HEIGHT } from "./fonts.ts";
import { drawBorder, drawPair, small } from "./head-parts.ts";
import { SMALLEST_TEXT } from "./lengths.ts";
import { INK } from "./look.ts";
import type { StatementData } from "./statement-data.ts";
import { sizeFor, tidy } from "./text-fit.ts";

/** Guild and statement, the woven border, member and sale, and the figures that matter. */
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
  flow.gap(8);
  drawBorder(flow);
  flow.gap(12);
  drawPair(
    flow,
    [
      { face: bold, size: 12, text: data.memberName },
      ...small(regular, [`Member ${data.memberNumber}`]),
    ],
    [{ face: bold, size: 12, text: data.saleName }, ...small(regular, [data.saleDates])],
  );
  flow.gap(16);
  drawFigures(flow, data);
  flow.gap(12);
  drawPayment(flow, data);
  flow.gap(14);
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

function drawFigures(flow: Flow, { figures }: StatementData): void {
  const { regular, bold } = flow.faces;
  const step = flow.width / figures.length;
  const baseline = flow.y + 9 + 8 + CAPITAL_HEIGHT * 18;
  figures.forEach(({ label, amount }, index) => {
    const x = flow.area.left + index * step;
    const text = tidy(amount);
    const size = sizeFor(bold, text, step - 10, 18, SMALLEST_TEXT);
    flow.ink.text(regular, 9, x, flow.y + 9, label);
    if (text !== "") flow.ink.text(bold, size, x, baseline, text);
  });
  flow.y = baseline + 4;
}

const drawPayment = (flow: Flow, { payment }: StatementData): void =>
  flow.paragraph(flow.faces.regular, 9.5, tidy(payment));
