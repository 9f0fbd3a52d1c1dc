import { closeDocument, openDocument } from "./document.ts";
import { openFaces } from "./fonts.ts";
import { PageInk } from "./ink.ts";
import type { ReceiptData, ReceiptLine, ReceiptTender } from "./receipt-data.ts";
import { ROLL_WIDTH, Roll } from "./receipt-roll.ts";

export type { ReceiptData, ReceiptLine, ReceiptTender } from "./receipt-data.ts";

const SMALL = 7.5;
const PLAIN = 8.5;
const LARGE = 12;

const titles = {
  sale: "Receipt",
  return: "Return",
  void: "Void receipt",
} as const satisfies Record<ReceiptData["kind"], string>;

/** One receipt on an 80 mm roll, the page as long as what is on it. */
export async function printReceipt(
  data: ReceiptData,
  options: { createdAt: Date },
): Promise<Uint8Array> {
  const document = openDocument({
    title: `${titles[data.kind]} ${data.receiptNumber}`,
    author: data.guildName,
    createdAt: options.createdAt,
  });
  const ink = new PageInk();
  const roll = new Roll(ink, openFaces(document));
  drawHead(roll, data);
  for (const line of data.lines) drawLine(roll, line);
  roll.rule();
  drawSums(roll, data);
  drawFoot(roll, data);
  ink.print(document, ROLL_WIDTH, roll.length);
  return closeDocument(document);
}

function drawHead(roll: Roll, data: ReceiptData): void {
  const { regular, bold } = roll.faces;
  roll.centred(bold, LARGE, data.guildName);
  for (const line of data.guildLines) roll.centred(regular, SMALL, line);
  roll.space(2);
  roll.centred(regular, PLAIN, data.saleName);
  roll.space(5);
  roll.weave();
  roll.space(5);
  if (data.copy) roll.centred(bold, LARGE, "Copy");
  roll.pair(bold, PLAIN, titles[data.kind], data.receiptNumber);
  roll.pair(regular, SMALL, data.at, `Till ${data.till}`);
  if (data.cashier !== undefined) roll.words(regular, SMALL, `Served by ${data.cashier}`);
  if (data.kind === "void") {
    roll.words(regular, SMALL, "This sale was called off. Nothing is owed on it.");
  }
  roll.rule();
}

function drawLine(roll: Roll, line: ReceiptLine): void {
  const { regular } = roll.faces;
  const several = line.quantity !== "1";
  const each = several ? `${line.quantity} × ${line.unitPrice}` : "";
  const detail = [line.tag, each, line.note].filter(Boolean).join(" · ");
  roll.pair(regular, PLAIN, line.description, line.amount);
  if (detail !== "") roll.words(regular, SMALL, detail);
  roll.space(2);
}

function drawSums(roll: Roll, data: ReceiptData): void {
  const { regular, bold } = roll.faces;
  for (const { label, amount } of data.sums) roll.pair(regular, PLAIN, label, amount);
  roll.space(2);
  roll.pair(bold, LARGE, "Total", data.total);
  for (const { label, amount } of data.inside) roll.pair(regular, SMALL, label, amount);
  if (data.exemption !== undefined)
    roll.words(regular, SMALL, `No tax taken, certificate ${data.exemption}`);
  roll.space(2);
  for (const tender of data.tenders) roll.pair(regular, PLAIN, tenderWords(tender), tender.amount);
  if (data.cashGiven !== undefined) roll.pair(regular, PLAIN, "Cash given", data.cashGiven);
  if (data.rounding !== undefined) roll.pair(regular, PLAIN, "Cash rounding", data.rounding);
  if (data.change !== undefined) roll.pair(bold, PLAIN, "Change", data.change);
}

const tenderWords = ({ label, reference }: ReceiptTender): string =>
  reference === undefined ? label : `${label}, ${reference}`;

function drawFoot(roll: Roll, { footer }: ReceiptData): void {
  roll.space(6);
  roll.weave();
  roll.space(5);
  roll.centred(roll.faces.regular, SMALL, footer);
}
