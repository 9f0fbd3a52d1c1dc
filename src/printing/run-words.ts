import { formatMoney } from "../rules/currency.ts";
import { dayText } from "../rules/day.ts";
import { total } from "../rules/money.ts";
import { chequeWords, type PreparedRun, standing } from "../rules/paying/run.ts";
import { printChequeList } from "./cheque-list.ts";
import type { RunPaperHead } from "./run-paper.ts";
import type { SheetOptions } from "./sheet.ts";
import { printSignatureList } from "./signature-list.ts";

/** The list of a run's cheques as PDF; what was dropped is left out. */
export const printCheques = (run: PreparedRun): Promise<Uint8Array> =>
  printChequeList(
    headOf(run, "Cheques to write"),
    standing(run).map(({ reference, payee, memberNumber, message, amount }) => ({
      number: reference,
      payee,
      about: `Member ${memberNumber}. ${message}`,
      amount: moneyOf(run)(amount),
      words: chequeWords(amount, run.heading),
    })),
    sheetFor(run),
  );

/** The list on which a run's cash is signed for, as PDF. */
export const printSignatures = (run: PreparedRun): Promise<Uint8Array> =>
  printSignatureList(
    headOf(run, "Cash to sign for"),
    standing(run).map(({ payee, memberNumber, amount }) => ({
      payee: `${memberNumber} ${payee}`,
      amount: moneyOf(run)(amount),
    })),
    sheetFor(run),
  );

const moneyOf =
  ({ heading: { currency, locale } }: PreparedRun) =>
  (amount: number): string =>
    formatMoney(amount, currency, locale);

function headOf(run: PreparedRun, title: string): RunPaperHead {
  const { heading } = run;
  const items = standing(run);
  const sum = moneyOf(run)(total(items.map(({ amount }) => amount)));
  return {
    title,
    guildName: heading.guildName,
    guildLines: heading.guildLines,
    run: `Paying run ${run.number}`,
    about: heading.saleName ?? "All sales",
    day: dayText(run.day, heading.locale),
    sum: `${items.length === 1 ? "1 payment" : `${items.length} payments`}, ${sum}`,
  };
}

/** Dated by the run, so that a reprint is the same to the byte. */
const sheetFor = ({ heading, at }: PreparedRun): SheetOptions => ({
  paper: heading.paper,
  createdAt: at,
});
