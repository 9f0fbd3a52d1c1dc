import type { ReceiptFact } from "../../../contract/till-fact.ts";
import type { TenderKind } from "../../../rules/tender.ts";
import { type Named, type ReturnedBefore, suggestedWay } from "./coming-back.ts";
import type { Return } from "./reversal-fact.ts";

/** What a cashier has chosen so far of the pieces that come back. */
export interface ReturnDraft {
  sale: ReceiptFact;
  tillNumber: number;
  before: ReturnedBefore;
  /** Pieces of each line, by its id. */
  counts: ReadonlyMap<string, number>;
  goesTo: "floor" | "member";
  reason: string;
  way: TenderKind;
}

export const startReturn = ({ fact: sale, tillNumber, before }: Named): ReturnDraft => ({
  ...{ sale, tillNumber, before, counts: new Map(), goesTo: "floor", reason: "" },
  way: suggestedWay(sale),
});

export const leftOf = ({ sale, before }: ReturnDraft, lineId: string): number =>
  (sale.lines.find(({ id }) => id === lineId)?.quantity ?? 0) - (before.get(lineId) ?? 0);

export function withCount(draft: ReturnDraft, lineId: string, count: number): ReturnDraft {
  const fits = Math.max(0, Math.min(count, leftOf(draft, lineId)));
  return { ...draft, counts: new Map([...draft.counts, [lineId, fits]]) };
}

/** A scan of a piece that comes back: one more of its line; undefined when it is not on it. */
export function withScanned(draft: ReturnDraft, tag: string): ReturnDraft | undefined {
  const line = draft.sale.lines.find((one) => one.tag === tag);
  return line && withCount(draft, line.id, (draft.counts.get(line.id) ?? 0) + 1);
}

export function chosen({ sale, before, counts, goesTo, reason }: ReturnDraft): Return {
  const returns = [...counts]
    .filter(([, quantity]) => quantity > 0)
    .map(([lineId, quantity]) => ({ lineId, quantity }));
  return { sale, before, returns, goesTo, reason };
}
