import { type ClosingSheet, countColumns, countRows } from "./closing-sheet.ts";
import type { SheetOptions } from "./sheet.ts";
import type { Column } from "./table.ts";
import { drawSection, drawSignatures, printTillPaper, type TillPaperHead } from "./till-paper.ts";

/** What goes to the bank from one cash-up; every text is ready to print. */
export interface DepositSlip {
  head: Omit<TillPaperHead, "title">;
  counts: ClosingSheet["counts"];
  counted: string;
  cheques: { receipt: string; reference: string; amount: string }[];
  chequeSum: string;
  /** From the cash that was counted to the whole deposit. */
  steps: { label: string; amount: string }[];
  total: string;
}

const cheques: Column[] = [
  { heading: "Receipt", align: "left" },
  { heading: "Reference", align: "left", wide: true },
  { heading: "Amount", align: "right" },
];
const steps: Column[] = [
  { heading: "To the bank", align: "left", wide: true },
  { heading: "Amount", align: "right" },
];

/** The slip that goes with cash and cheques. The same figures give the same bytes. */
export const printDepositSlip = (slip: DepositSlip, options: SheetOptions): Promise<Uint8Array> =>
  printTillPaper({ ...slip.head, title: "Deposit slip" }, options, (flow) => {
    const total = ["Cash counted", "", slip.counted];
    drawSection(flow, "Cash", countColumns, countRows(slip.counts), total);
    const given = slip.cheques.map((row) => [row.receipt, row.reference, row.amount]);
    drawSection(flow, "Cheques", cheques, given, ["", "Cheques together", slip.chequeSum]);
    const sums = slip.steps.map(({ label, amount }) => [label, amount]);
    drawSection(flow, "Deposit", steps, sums, ["Deposit", slip.total]);
    drawSignatures(flow, ["Made up by", "Received by"]);
  });
