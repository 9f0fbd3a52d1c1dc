import type { ReceiptFact } from "../../../contract/till-fact.ts";
import type { StoredLine } from "../../../rules/reversal.ts";
import type { TenderKind } from "../../../rules/tender.ts";

/** Pieces of each line that came back before, by the id of the line that was sold. */
export type ReturnedBefore = ReadonlyMap<string, number>;

/** A receipt under its number, with what is known to have come back of it. */
export interface Named {
  fact: ReceiptFact;
  tillNumber: number;
  before: ReturnedBefore;
}

/**
 * What the receipts of this till and the server say about pieces that have come back. The server
 * may not have this till's latest yet, nor this till those of others: the larger count holds.
 */
export function returnedBefore(
  saleId: string,
  past: readonly ReceiptFact[],
  known: ReturnedBefore = new Map(),
): ReturnedBefore {
  const counts = new Map<string, number>();
  const back = past.filter(({ reversesId }) => reversesId === saleId);
  for (const { reversesLineId, quantity } of back.flatMap(({ lines }) => lines))
    if (reversesLineId)
      counts.set(reversesLineId, (counts.get(reversesLineId) ?? 0) + Math.abs(quantity));
  for (const [lineId, pieces] of known)
    if (pieces > 0) counts.set(lineId, Math.max(pieces, counts.get(lineId) ?? 0));
  return counts;
}

/** The lines of a sale as the rules of returning read them. */
export const storedLines = (sale: ReceiptFact, before: ReturnedBefore): StoredLine[] =>
  sale.lines.map(({ id, quantity, unitPrice, discount, tax, taxInside, amount }) => ({
    ...{ lineId: id, quantity, unitPrice, discount, tax, amount },
    taxIncluded: taxInside,
    alreadyReturned: before.get(id) ?? 0,
  }));

/** Money goes back the way most of it came. */
export function suggestedWay({ tenders }: Pick<ReceiptFact, "tenders">): TenderKind {
  const ways = tenders.toSorted((one, other) => other.amount - one.amount);
  const first = ways.find(({ kind }) => kind !== "exchange")?.kind;
  return first === undefined || first === "exchange" ? "cash" : first;
}

/** Why this receipt cannot be called off as a whole; undefined when it can. */
export function notVoidable(
  sale: ReceiptFact,
  before: ReturnedBefore,
  sessionId: string,
): string | undefined {
  if (sale.kind !== "sale") return "Only a sale can be called off.";
  if (before.size > 0) return "Pieces of this receipt have come back already.";
  if (sale.exchangeId) return "This receipt is half of an exchange. Take the pieces back instead.";
  if (sale.tillSessionId !== sessionId)
    return "The drawer has been counted since. Take the pieces back instead.";
  return undefined;
}

/** Whether any piece of a sale can still come back. */
export const anyLeft = (sale: ReceiptFact, before: ReturnedBefore): boolean =>
  sale.kind === "sale" && sale.lines.some(({ id, quantity }) => quantity > (before.get(id) ?? 0));
