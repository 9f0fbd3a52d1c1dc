import { type FieldError, ok, problem, type Result } from "../rules/problem.ts";
import { type Calibration, checkCalibration, perfect } from "./calibration.ts";
import type { Purpose } from "./fit-label.ts";
import { labelsOn, type Stock, stocks } from "./stock.ts";

/** How a print goes onto paper: everything a worker needs, as plain data that can be kept. */
export interface Paper {
  stock: Stock;
  startAt: number;
  skip: number[];
  secondStrip: boolean;
  code: "bars" | "qr" | "both";
  each: boolean;
  calibration: Calibration;
}

export interface PaperOrder {
  what: Purpose;
  stock: string;
  start: number;
  skip: readonly number[];
  second: boolean;
  code: Paper["code"];
  each: boolean;
}

/** A printer's figures as they are kept: nudges in thousandths of a millimetre. */
export interface KeptPrinter {
  nudgeX: number;
  nudgeY: number;
  scaleX: number;
  scaleY: number;
}

/** The figures in millimetres, as printing takes them. */
export const calibrationOf = (printer: KeptPrinter | null): Calibration =>
  printer
    ? { ...printer, nudgeX: printer.nudgeX / 1_000, nudgeY: printer.nudgeY / 1_000 }
    : perfect;

/** A shipped stock by its name, or the guild's own as it was kept; undefined when there is none. */
export const stockNamed = (name: string, own: object | null): Stock | undefined =>
  own
    ? (own as Stock)
    : Object.hasOwn(stocks, name)
      ? stocks[name as keyof typeof stocks]
      : undefined;

/** Whether a stock takes tags or care strips. */
export const suits = (stock: Stock, what: Purpose): boolean =>
  stock.purpose === "both" || stock.purpose === what;

/** Puts stock, places and printer together, or says which of them cannot be used. */
export function paperFor(
  order: PaperOrder,
  own: object | null,
  printer: KeptPrinter | null,
): Result<Paper> {
  const stock = stockNamed(order.stock, own);
  const errors: FieldError[] = [];
  if (!stock) errors.push({ field: "stock", message: "Choose a label stock from the list." });
  else if (!suits(stock, order.what))
    errors.push({ field: "stock", message: wrongKind(order.what) });
  else errors.push(...checkPlaces(stock, order));
  const calibration = calibrationOf(printer);
  if (checkCalibration(calibration).length > 0)
    errors.push({ field: "printer", message: "This printer's figures cannot be used." });
  if (errors[0] || !stock)
    return { ok: false, problem: problem("invalid-input", errors[0]?.message ?? "", errors) };
  const { start: startAt, second: secondStrip, code, each } = order;
  return ok({ stock, startAt, skip: [...order.skip], secondStrip, code, each, calibration });
}

const wrongKind = (what: Purpose): string =>
  what === "tag"
    ? "Care strips have no room for a tag. Choose a stock for tags."
    : "Choose a stock for care strips: cloth or ribbon that can be sewn in.";

function checkPlaces(stock: Stock, { start, skip }: PaperOrder): FieldError[] {
  const most = labelsOn(stock);
  const isPlace = (place: number) => Number.isInteger(place) && place >= 1 && place <= most;
  const errors: FieldError[] = [];
  if (!isPlace(start))
    errors.push({
      field: "start",
      message: `This sheet has the labels 1 to ${most}. Choose one of them.`,
    });
  if (!skip.every(isPlace))
    errors.push({ field: "skip", message: `Used labels are numbers from 1 to ${most}.` });
  const used = new Set(skip.filter(isPlace));
  const free = Array.from({ length: most }, (_, index) => index + 1).some(
    (place) => place >= start && !used.has(place),
  );
  if (errors.length === 0 && !free)
    errors.push({
      field: "skip",
      message: "No free label is left on the first sheet. Take a new one.",
    });
  return errors;
}
