import { looksLikeCardNumber } from "./card-number.ts";
import { type CashRounding, roundCash } from "./cash-rounding.ts";
import { isMinor, type Minor, total } from "./money.ts";
import type { FieldError } from "./problem.ts";

export const tenderKinds = ["cash", "cheque", "card", "other"] as const;

export type TenderKind = (typeof tenderKinds)[number];

/** The words that people read on receipts and at the till. */
export const tenderWords: Record<TenderKind, string> = {
  cash: "Cash",
  cheque: "Cheque",
  card: "Card",
  other: "Other",
};

/** One way of paying as the till sends it; a cash amount is what the buyer handed over. */
export interface TenderInput {
  kind: TenderKind;
  amount: Minor;
  reference?: string;
}

/** A tender with the amount that pays for the goods, change already taken off. */
export type Tender = TenderInput;

export interface Payment {
  /** They add up to what was due and `rounding`. */
  tenders: Tender[];
  cashGiven: Minor;
  change: Minor;
  /** What cash brought in above (or below) what was exactly due, to its own account. */
  rounding: Minor;
}

/**
 * The cash that pays what the other tenders leave of `due`, rounded to the coins in use; `left` is
 * the exact amount and below zero when the others come to more. Only cash is ever rounded
 * (Alabama, Act 2026-548: of a split payment the cash part alone).
 */
export function cashPart(
  tenders: readonly TenderInput[],
  due: Minor,
  rule: CashRounding,
): { left: Minor; due: Minor; rounding: Minor } {
  const others = total(tenders.filter((tender) => !isCash(tender)).map(({ amount }) => amount));
  return { left: due - others, ...roundCash(due - others, rule) };
}

/**
 * What is wrong with a payment of `due`, field by field; an empty list means that it fits. Where
 * the whole payment rounds to nothing, cash of 0 says that it was taken as cash.
 */
export function checkTenders(
  tenders: readonly TenderInput[],
  due: Minor,
  rule: CashRounding,
): FieldError[] {
  const cashAt = tenders.flatMap((tender, index) => (isCash(tender) ? [index] : []));
  const roundsAway = roundCash(due, rule).due === 0 && due > 0 && tenders.length === 1;
  const errors = tenders.flatMap((tender, index) =>
    checkOne(tender, `tenders.${index}`, roundsAway && isCash(tender) ? 0 : 1),
  );
  if (errors.length > 0) return errors;
  if (cashAt.length > 1)
    return [{ field: `tenders.${cashAt[1]}.kind`, message: "Put all the cash in one amount." }];
  return checkOthers(tenders, due) ?? checkCash(tenders, cashAt[0], due, rule);
}

function checkOthers(tenders: readonly TenderInput[], due: Minor): FieldError[] | undefined {
  let left = due;
  for (const [index, tender] of tenders.entries()) {
    if (isCash(tender)) continue;
    left -= tender.amount;
    if (left < 0)
      return [
        {
          field: `tenders.${index}.amount`,
          message: "Without cash this comes to more than the total. Take a smaller amount here.",
        },
      ];
  }
  return undefined;
}

function checkCash(
  tenders: readonly TenderInput[],
  cashAt: number | undefined,
  due: Minor,
  rule: CashRounding,
): FieldError[] {
  const part = cashPart(tenders, due, rule);
  const short = "This does not cover the total yet. Take the rest before you finish.";
  if (cashAt === undefined) return part.left > 0 ? [{ field: "tenders", message: short }] : [];
  const field = `tenders.${cashAt}.amount`;
  if (part.left === 0) return [{ field, message: "Nothing is left to pay. Leave cash out." }];
  if (part.due === 0 && tenders.length > 1)
    return [
      {
        field,
        message:
          "What is left is less than the smallest coin. Leave cash out and take it with the rest.",
      },
    ];
  return tenders[cashAt]!.amount < part.due ? [{ field, message: short }] : [];
}

/** Applies tenders that passed `checkTenders`: cash covers what the others leave. */
export function applyTenders(
  tenders: readonly TenderInput[],
  due: Minor,
  rule: CashRounding,
): Payment {
  const cashGiven = total(tenders.filter(isCash).map(({ amount }) => amount));
  const rounding = tenders.some(isCash) ? cashPart(tenders, due, rule).rounding : 0;
  const change = total(tenders.map(({ amount }) => amount)) - due - rounding;
  if (change < 0 || change > cashGiven)
    throw new RangeError(`Tenders do not fit a total of ${due}`);
  return {
    tenders: tenders.map((tender) =>
      isCash(tender) ? { ...tender, amount: cashGiven - change } : { ...tender },
    ),
    cashGiven,
    change,
    rounding,
  };
}

/** Far above any real receipt, so that sums of amounts stay safe integers. */
export const largestReceipt = 1_000_000_000_000;

const isCash = (tender: TenderInput) => tender.kind === "cash";

function checkOne({ amount, reference }: TenderInput, at: string, least: Minor): FieldError[] {
  const errors: FieldError[] = [];
  if (!isMinor(amount) || amount < least || amount > largestReceipt)
    errors.push({ field: `${at}.amount`, message: "Type an amount above zero, or leave it out." });
  if (reference && looksLikeCardNumber(reference))
    errors.push({
      field: `${at}.reference`,
      message:
        "This looks like a card number, which must not be typed here. " +
        "Type the reference that the card terminal printed.",
    });
  return errors;
}
