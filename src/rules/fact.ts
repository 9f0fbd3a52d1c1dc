import type { LineKind } from "./line-kind.ts";
import { type Minor, total } from "./money.ts";

/** The figures of one line as a till sent them; below zero where something comes back. */
export interface FactLineFigures {
  kind: LineKind;
  quantity: number;
  unitPrice: Minor;
  discount: Minor;
  amount: Minor;
  tax: Minor;
  taxInside: Minor;
}

/** The figures of a receipt as a till sent them. */
export interface FactFigures {
  kind: "sale" | "return" | "void";
  lines: readonly FactLineFigures[];
  taxes: readonly { code: string; tax: Minor }[];
  tenders: readonly { kind: string; amount: Minor }[];
  subtotal: Minor;
  tax: Minor;
  total: Minor;
  rounding: Minor;
  cashGiven: Minor;
  change: Minor;
}

/**
 * Whether a till's figures fit each other, so that the books can take them as they are. Whether
 * they are also right is another question: money that has changed hands is a fact either way.
 */
export function factAddsUp(fact: FactFigures): boolean {
  const sign = fact.kind === "sale" ? 1 : -1;
  const taxed = fact.taxes.filter(({ tax }) => tax !== 0);
  return (
    total(fact.lines.map(({ amount }) => amount)) === fact.subtotal &&
    total(fact.lines.map(({ tax }) => tax)) === fact.tax &&
    total(fact.taxes.map(({ tax }) => tax)) === fact.tax &&
    fact.subtotal + fact.tax === fact.total &&
    total(fact.tenders.map(({ amount }) => amount)) === fact.total + fact.rounding &&
    Math.sign(fact.total) === sign &&
    fact.tenders.every(({ kind, amount }) => amount !== 0 || kind === "cash") &&
    new Set(taxed.map(({ code }) => code)).size === taxed.length &&
    fact.change >= 0 &&
    fact.cashGiven >= fact.change &&
    fact.lines.every((line) => lineAddsUp(line, sign))
  );
}

function lineAddsUp(line: FactLineFigures, sign: number): boolean {
  const { kind, quantity, unitPrice, discount, amount, tax, taxInside } = line;
  return (
    Math.sign(quantity) === sign &&
    amount === quantity * unitPrice - discount - taxInside &&
    [discount, tax, amount].every((figure) => figure === 0 || Math.sign(figure) === sign) &&
    (taxInside === 0 || taxInside === tax) &&
    (kind !== "donation" || tax === 0)
  );
}
