import type { gatherReceipt } from "../database/receipt-paper.ts";
import { printReceipt } from "../printing/receipt.ts";

type Gathered = NonNullable<Awaited<ReturnType<typeof gatherReceipt>>>;

const titles = { sale: "Receipt", return: "Return", void: "Void receipt" };

/** A receipt as a message: plain words, and the paper as PDF beside them. */
export async function receiptLetter({ paper, createdAt }: Gathered) {
  const title = `${titles[paper.kind]} ${paper.receiptNumber}`;
  const pdf = Buffer.from(await printReceipt(paper, { createdAt }));
  return {
    subject: `${title}, ${paper.guildName}`,
    text: textOf(paper, title),
    attachments: [
      {
        filename: `receipt-${paper.receiptNumber}.pdf`,
        content: pdf,
        contentType: "application/pdf",
      },
    ],
  };
}

const textOf = (paper: Gathered["paper"], title: string): string =>
  [
    paper.guildName,
    paper.saleName,
    "",
    `${title}, ${paper.at}`,
    "",
    ...paper.lines.map(lineText),
    "",
    ...paper.sums.map(({ label, amount }) => `${label}: ${amount}`),
    `Total: ${paper.total}`,
    ...paper.inside.map(({ label, amount }) => `${label}: ${amount}`),
    ...(paper.footer ? ["", paper.footer] : []),
    "",
    "The receipt is attached as a PDF. You asked for it at the till. Your address was used for this one message only and is not kept.",
    "",
  ].join("\n");

function lineText({ description, quantity, amount }: Gathered["paper"]["lines"][number]): string {
  const several = quantity === "1" ? "" : `${quantity} × `;
  return `${several}${description}: ${amount}`;
}
