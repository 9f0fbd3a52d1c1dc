import type { Flow } from "./flow.ts";
import { CAPITAL_HEIGHT } from "./fonts.ts";
import { drawBorder, drawPair, small } from "./head-parts.ts";
import { SMALLEST_TEXT } from "./lengths.ts";
import { INK } from "./look.ts";
import type { StatementData } from "./statement-data.ts";
import { sizeFor, tidy } from "./text-fit.ts";

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
