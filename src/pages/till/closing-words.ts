import type { SheetRead } from "../../database/closing-sheet.ts";
import type { ClosingSheet } from "../../printing/closing-sheet.ts";
import type { DepositSlip } from "../../printing/deposit-slip.ts";
import { cashMoveWords } from "../../rules/cash-move.ts";
import { formatMoney } from "../../rules/currency.ts";
import type { CashCount } from "../../rules/denominations.ts";
import { total } from "../../rules/money.ts";
import { showReceiptNumber } from "../../rules/receipt-number.ts";
import { tenderWords } from "../../rules/tender.ts";
import { daysText, whenText } from "../format.ts";
import { differenceWords } from "./difference-words.ts";

interface Guild {
  name: string;
  address: string;
  currency: string;
  locale: string;
  timeZone: string;
}

type Money = (amount: number) => string;

const moneyOf =
  ({ currency, locale }: Guild): Money =>
  (amount) =>
    formatMoney(amount, currency, locale);

const headOf = (sheet: SheetRead, guild: Guild) => ({
  guildName: guild.name,
  guildLines: guild.address.split("\n").filter(Boolean),
  saleName: sheet.sale.name,
  saleDates: daysText(sheet.sale.firstDay, sheet.sale.lastDay, guild),
  till: sheet.tillName
    ? `Till ${sheet.tillNumber} · ${sheet.tillName}`
    : `Till ${sheet.tillNumber}`,
  at: `Cashed up ${whenText(sheet.at, guild)}`,
});

const countsOf = (counts: readonly CashCount[], money: Money) =>
  counts.map(({ value, count }) => ({
    value: money(value),
    count: String(count),
    amount: money(value * count),
  }));

/** A session in the words and amounts of its closing sheet. */
export function closingWords(sheet: SheetRead, guild: Guild): ClosingSheet {
  const money = moneyOf(guild);
  return {
    head: headOf(sheet, guild),
    facts: factsOf(sheet, guild, money),
    tenders: sheet.tenders.map(({ kind, count, amount }) => ({
      tender: kind === "exchange" ? "Exchange" : tenderWords[kind],
      count: String(count),
      amount: money(amount),
    })),
    corrections: sheet.corrections.map(({ number, kind, of, reason, total: amount }) => ({
      receipt: showReceiptNumber(sheet.tillNumber, number),
      what: `${kind === "void" ? "Void" : "Return"}${of ? ` of ${showReceiptNumber(of.till, of.number)}` : ""}`,
      reason,
      amount: money(amount),
    })),
    moves: sheet.moves.map(({ kind, reason, by, at, amount }) => ({
      what: cashMoveWords[kind].label,
      reason,
      who: `${by}, ${whenText(at, guild)}`,
      amount: money(amount),
    })),
    cash: stepsOf(sheet, money),
    expected: money(sheet.expected),
    counts: countsOf(sheet.counts, money),
    counted: money(sheet.counted),
    difference: differenceWords(sheet.difference, money),
    people: [sheet.by, sheet.witness],
    notes: sheet.note.split("\n").filter(Boolean),
  };
}

function factsOf(sheet: SheetRead, guild: Guild, money: Money): ClosingSheet["facts"] {
  const { receipts, tillNumber, floatCounts } = sheet;
  const named = (number: number | null) => showReceiptNumber(tillNumber, number ?? 0);
  const float = floatCounts.map(({ value, count }) => `${count} × ${money(value)}`).join(", ");
  return [
    { label: "Opened", value: `${whenText(sheet.openedAt, guild)}, by ${sheet.openedBy}` },
    { label: "Float", value: float ? `${money(sheet.float)} (${float})` : money(sheet.float) },
    {
      label: "Receipts",
      value:
        receipts.count === 0
          ? "None"
          : `${receipts.count}, from ${named(receipts.first)} to ${named(receipts.last)}`,
    },
    ...(receipts.rounding === 0
      ? []
      : [{ label: "Cash rounding", value: `${money(receipts.rounding)}, in the cash below` }]),
  ];
}

/** From the float to the expected cash, each step with its sign. */
function stepsOf(sheet: SheetRead, money: Money): ClosingSheet["cash"] {
  const moved = (wanted: string) =>
    total(sheet.moves.filter(({ kind }) => kind === wanted).map(({ amount }) => amount));
  const taken = sheet.tenders.find(({ kind }) => kind === "cash")?.amount ?? 0;
  const steps: [string, number][] = [
    ["Float", sheet.float],
    ["Cash taken, returns taken off", taken],
    [cashMoveWords["paid-in"].label, moved("paid-in")],
    [cashMoveWords["paid-out"].label, 0 - moved("paid-out")],
    [cashMoveWords["to-safe"].label, 0 - moved("to-safe")],
  ];
  return steps
    .filter(([, amount], index) => index < 2 || amount !== 0)
    .map(([label, amount]) => ({ label, amount: money(amount) }));
}

/** What goes to the bank from a session when `keep` stays behind as the next float. */
export function depositWords(sheet: SheetRead, guild: Guild, keep: number): DepositSlip {
  const money = moneyOf(guild);
  const cheques = total(sheet.cheques.map(({ amount }) => amount));
  const steps: [string, number][] = [
    ["Cash counted", sheet.counted],
    ["Kept back as a float", 0 - keep],
    ["Cheques", cheques],
  ];
  return {
    head: headOf(sheet, guild),
    counts: countsOf(sheet.counts, money),
    counted: money(sheet.counted),
    cheques: sheet.cheques.map(({ number, reference, amount }) => ({
      receipt: showReceiptNumber(sheet.tillNumber, number),
      reference,
      amount: money(amount),
    })),
    chequeSum: money(cheques),
    steps: steps
      .filter(([, amount], index) => index === 0 || amount !== 0)
      .map(([label, amount]) => ({ label, amount: money(amount) })),
    total: money(sheet.counted - keep + cheques),
  };
}
