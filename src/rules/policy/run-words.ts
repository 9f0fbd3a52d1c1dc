import type { Minor } from "../money.ts";
import type { RunItem } from "./run.ts";

const names = {
  entry: "Entry fee",
  late: "Fee for late entry",
  "missed-shift": "Fee for a missed shift",
  loss: "Missing piece made good",
} as const;

/**
 * What a statement says about a fee, a loss, an adjustment or a correction, as it stays printed.
 * `piece` is the tag and description of the item that is missing.
 */
export function itemWords(item: RunItem, money: (amount: Minor) => string, piece: string): string {
  if (item.kind === "adjustment") return `Adjustment: ${item.reason}`;
  if (item.kind === "share-correction")
    return `Guild percentage of pieces on earlier statements, corrected by ${money(item.amount)}`;
  const name = item.kind === "loss" ? `${names.loss}: ${piece}` : names[item.kind];
  // A fee lowers what the member has, so what a statement held of it before is turned round.
  const now = item.before + (item.kind === "loss" ? item.amount : 0 - item.amount);
  if (item.before !== 0) return `${name}, corrected from ${money(item.before)} to ${money(now)}`;
  return item.count === 1 ? name : `${name}, ${item.count} × ${money(item.each)}`;
}
