import { looksLikeCardNumber } from "./card-number.ts";
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
  tenders: Tender[];
  cashGiven: Minor;
  change: Minor;
}

/** What is wrong with a payment of `due`, field by field; an empty list means that it fits. */
export function checkTenders(tenders: readonly TenderInput[], due: Minor): FieldError[] {
  const errors = tenders.flatMap((tender, index) => checkOne(tender, `tenders.${index}`));
  if (errors.length > 0) return errors;

  const cashAt = tenders.flatMap(({ kind }, index) => (kind === "cash" ? [index] : []));
  if (cashAt.length > 1)
    return [{ field: `tenders.${cashAt[1]}.kind`, message: "Put all the cash in one amount." }];
  let left = due;
  for (const [index, { kind, amount }] of tenders.entries()) {
    if (kind === "cash") continue;
    left -= amount;
    if (left < 0)
      return [
        {
          field: `tenders.${index}.amount`,
          message: "Without cash this comes to more than the total. Take a smaller amount here.",
        },
      ];
  }
  const cash = tenders[cashAt[0] ?? -1];
  if (cash && left === 0)
    return [
      { field: `tenders.${cashAt[0]}.amount`, message: "Nothing is left to pay. Leave cash out." },
    ];
  if ((cash?.amount ?? 0) < left)
    return [
      {
        field: cash ? `tenders.${cashAt[0]}.amount` : "tenders",
        message: "This does not cover the total yet. Take the rest before you finish.",
      },
    ];
  return [];
}

/** Applies tenders that passed `checkTenders`: cash covers what the others leave. */
export function applyTenders(tenders: readonly TenderInput[], due: Minor): Payment {
  const cashGiven = total(tenders.filter(isCash).map(({ amount }) => amount));
  const change = total(tenders.map(({ amount }) => amount)) - due;
  if (change < 0 || change > cashGiven)
    throw new RangeError(`Tenders do not fit a total of ${due}`);
  return {
    tenders: tenders.map((tender) =>
      isCash(tender) ? { ...tender, amount: cashGiven - change } : { ...tender },
    ),
    cashGiven,
    change,
  };
}

/** Far above any real receipt, so that sums of amounts stay safe integers. */
export const largestReceipt = 1_000_000_000_000;

const isCash = (tender: TenderInput) => tender.kind === "cash";

function checkOne({ amount, reference }: TenderInput, at: string): FieldError[] {
  const errors: FieldError[] = [];
  if (!isMinor(amount) || amount <= 0 || amount > largestReceipt)
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
