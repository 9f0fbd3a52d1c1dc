import { assertMinor, type Minor } from "../money.ts";
import type { KindRule } from "./tax-rules.ts";

/** A line after its discount: what the buyer pays when prices hold the tax, else before tax. */
export interface LineToTax {
  kind: string;
  amount: Minor;
  /** Alike pieces, 1 or more: thresholds look at one piece, never at the basket. */
  quantity: number;
  /** Gifts to the guild and the like are not sales. */
  taxed: boolean;
}

/**
 * The part of a line that a component taxes.
 *
 * "exempt-under" frees a piece below the threshold and taxes the whole price from there on (New
 * York, TSB-M-97(14)S; a tax holiday of Streamlined section 322). "excess-over" frees every piece
 * up to and including the threshold and taxes what is above it (Massachusetts G.L. 64H s.6(k),
 * Rhode Island 280-RICR-20-70-6.6). With tax in the prices the price as paid is tested. Throws
 * for an amount below zero, no pieces, or a threshold that is missing.
 */
export function taxedPart({ amount, quantity, taxed }: LineToTax, rule: KindRule): Minor {
  if (assertMinor(amount) < 0 || assertMinor(quantity) < 1)
    throw new RangeError(`Tax is for sales, not for ${quantity} pieces at ${amount}`);
  if (!taxed || rule.mode === "exempt") return 0;
  if (rule.mode === "taxable") return amount;
  const limit = thresholdOf(rule) * BigInt(quantity);
  if (rule.mode === "exempt-under") return BigInt(amount) < limit ? 0 : amount;
  return BigInt(amount) > limit ? Number(BigInt(amount) - limit) : 0;
}

function thresholdOf({ threshold, mode, kind }: KindRule): bigint {
  if (threshold === undefined) throw new Error(`The rule ${mode} for ${kind} has no threshold`);
  return BigInt(threshold);
}
