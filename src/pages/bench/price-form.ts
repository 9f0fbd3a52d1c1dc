import { priceHelpShape } from "../../contract/price-help.ts";
import type { PriceStart } from "../../database/price-start.ts";
import { amountText, parseMoney, parseRate } from "../../rules/currency.ts";
import type { PriceQuestion } from "../../rules/price/price-help.ts";
import { type FieldError, ok, problem, type Result } from "../../rules/problem.ts";
import { hoursText, parseHours } from "../../rules/work-hours.ts";
import { readForm } from "../read-form.ts";
import type { Typed } from "../sales/terms-rows.ts";

/** The fields in their order on the page; the summary of faults goes by it. */
const fields = [
  ...["materials", "notions", "setUp", "weaving", "finishing", "wage", "kind", "sale", "rate"],
  ...["sharedBy", "overhead", "overheadRate", "sellOfTen", "sales"],
] as const;

/** Every field whose value an address carries from one look to the next. */
export const carried = [...fields, "price", "fibre", "size", "piecesInSet"] as const;

/** Whether an address asks for an answer, or only opens the page. */
export const isAsked = (typed: Typed): boolean => fields.some((field) => field in typed);

/** Reads the form; what is wrong is named field by field. The price to look at comes by itself. */
export function readQuestion(typed: Typed, currency: string): Result<PriceQuestion> {
  const errors: FieldError[] = [];
  /** What the field means when it is empty, else what its reader makes of it. */
  const read = <T>(field: string, empty: T, by: (text: string) => Result<T>): T => {
    const text = typed[field] ?? "";
    const found = text === "" ? ok(empty) : by(text);
    if (found.ok) return found.value;
    errors.push(...found.problem.errors);
    return empty;
  };
  const money = <T>(field: string, empty: T) =>
    read<T | number>(field, empty, (text) => parseMoney(text, currency, field));
  const rate = <T>(field: string, empty: T) =>
    read<T | number>(field, empty, (text) => parseRate(text, field));
  const hours = (field: string) =>
    read(field, 0, (text) => (/^0+(?:[:.,]0*)?$/.test(text) ? ok(0) : parseHours(text, field)));
  const noWage = () => {
    errors.push({ field: "wage", message: "Type what an hour of your work should bring." });
    return 1;
  };
  const shaped = readForm(priceHelpShape, {
    sale: typed.sale || null,
    kind: typed.kind ?? "",
    ...{ materials: money("materials", 0), notions: money("notions", 0) },
    ...{ setUp: hours("setUp"), weaving: hours("weaving"), finishing: hours("finishing") },
    ...{ overhead: money("overhead", 0), overheadRate: rate("overheadRate", 0) },
    // Without a wage there is no question yet; a stand-in, for the message is ours.
    wage: typed.wage ? money("wage", 1) : noWage(),
    sellOfTen: wholeNumber(typed.sellOfTen, 10),
    sharedBy: wholeNumber(typed.sharedBy, null),
    rate: rate("rate", null),
    sales: money("sales", null),
  });
  const all = [...errors, ...(shaped.ok ? [] : shaped.problem.errors)];
  if (shaped.ok && all.length === 0) return shaped;
  return {
    ok: false,
    problem: problem("invalid-input", "What you typed is still here.", inOrder(all)),
  };
}

/** The price to look at: one that cannot be read leaves the rest of the page as it is. */
export const readPrice = (typed: Typed, currency: string): Result<number | null> => {
  const text = typed.price ?? "";
  if (text === "") return ok(null);
  const read = parseMoney(text, currency, "price");
  if (!read.ok || read.value > 0) return read;
  return {
    ok: false,
    problem: problem("invalid-input", "", [
      { field: "price", message: "Type a price above zero." },
    ]),
  };
};

const wholeNumber = <T>(text: string | undefined, empty: T): T | number => {
  if (!text) return empty;
  return /^\d{1,6}$/.test(text.normalize("NFKC")) ? Number(text.normalize("NFKC")) : Number.NaN;
};

/** One message for each field, the first that was found, in the order of the page. */
function inOrder(errors: readonly FieldError[]): FieldError[] {
  const place = ({ field }: FieldError) => fields.indexOf(field as (typeof fields)[number]);
  return errors
    .filter((one, index) => errors.findIndex(({ field }) => field === one.field) === index)
    .sort((one, other) => place(one) - place(other));
}

/** What stands in the fields before anything is typed. */
export function startValues(
  start: PriceStart | null,
  { wage, sharedBy, currency }: { wage: number | null; sharedBy: number; currency: string },
): Typed {
  const money = (amount: number | null) => (amount === null ? "" : amountText(amount, currency));
  const hours = (minutes: number) => (minutes === 0 ? "" : hoursText(minutes));
  return {
    wage: money(wage),
    sharedBy: sharedBy === 0 ? "" : String(sharedBy),
    ...(start && {
      materials: money(start.materials),
      ...{ setUp: hours(start.setUp), weaving: hours(start.weaving) },
      ...{ finishing: hours(start.finishing), kind: start.kind, fibre: start.fibre },
      ...{ size: start.size, piecesInSet: String(start.piecesInSet), price: money(start.price) },
    }),
  };
}
