import { isRate, type Minor, type Rate, share, total, wholeRate } from "../money.ts";
import { splitByLargestRemainder } from "../split.ts";
import type { PriceAndTax } from "./card-paid.ts";

/**
 * The four ways of bearing the fee of card payments:
 * `guild`: the guild pays it and members see nothing of it;
 * `price`: members bear it by the price of what cards paid;
 * `charged`: members bear it as the terminal charges it, on price and tax and with `fixed` for each
 * receipt;
 * `before-share`: it comes off the price first and the guild takes its percentage of what is left,
 * so that both bear it.
 */
export type CardFeeWay = "guild" | "price" | "charged" | "before-share";

/** `rate` in thousandths of a percent; `fixed` for each receipt, used by `charged` alone. */
export interface CardFeePolicy {
  way: CardFeeWay;
  rate: Rate;
  fixed: Minor;
}

/**
 * What a card paid of one sold line; zero for lines paid otherwise. Returns bring no fee back (the
 * processors keep it: common practice, no source) and so are paid by no card here.
 */
export interface CardLine {
  receiptId: string;
  donated: boolean;
  card: PriceAndTax;
}

/** `byGuild` and the parts of the lines add up to `whole`. */
export interface SharedCardFee {
  whole: Minor;
  byGuild: Minor;
  perLine: Minor[];
}

/**
 * The fee to be expected: `rate` of the prices, rounded half up once; with `charged`, `rate` of
 * price and tax rounded half up for each receipt, as a terminal does, and `fixed` for each receipt.
 */
export function expectedCardFee(lines: readonly CardLine[], policy: CardFeePolicy): Minor {
  const { way, rate, fixed } = policy;
  if (way !== "charged") return share(total(lines.map(({ card }) => card.price)), rate);
  return total(chargedReceipts(lines).map(({ charged }) => share(charged, rate) + fixed));
}

/**
 * Spreads a fee (what the processor's statement says, or the expected one) over the lines that
 * cards paid, by largest remainder. The parts of donated lines stay with the guild, and so does
 * a fee without any line to bear it. Throws for a fee below zero or a rate outside 0 to 100 %.
 */
export function shareCardFee(
  whole: Minor,
  lines: readonly CardLine[],
  policy: CardFeePolicy,
): SharedCardFee {
  if (whole < 0 || !isRate(policy.rate)) throw new RangeError(`Not a card fee: ${whole}`);
  const perLine = partsOf(whole, lines, policy).map((part, index) =>
    lines[index]!.donated ? 0 : part,
  );
  return { whole, byGuild: whole - total(perLine), perLine };
}

function partsOf(whole: Minor, lines: readonly CardLine[], policy: CardFeePolicy): Minor[] {
  const nothing = lines.map(() => 0);
  if (policy.way === "guild") return nothing;
  if (policy.way === "charged") return partsByReceipt(whole, lines, policy);
  const prices = lines.map(({ card }) => card.price);
  return total(prices) === 0 ? nothing : splitByLargestRemainder(whole, prices);
}

/** First over the receipts, each with its fixed amount, then over the lines of each receipt. */
function partsByReceipt(
  whole: Minor,
  lines: readonly CardLine[],
  { rate, fixed }: CardFeePolicy,
): Minor[] {
  const parts = lines.map(() => 0);
  const receipts = chargedReceipts(lines);
  if (receipts.length === 0) return parts;
  const weights = receipts.map(({ charged }) =>
    fixed === 0 ? charged : BigInt(rate) * BigInt(charged) + BigInt(fixed) * BigInt(wholeRate),
  );
  for (const [index, fee] of splitByLargestRemainder(whole, weights).entries()) {
    const { positions } = receipts[index]!;
    const amounts = positions.map((position) => chargedOf(lines[position]!));
    for (const [at, part] of splitByLargestRemainder(fee, amounts).entries())
      parts[positions[at]!] = part;
  }
  return parts;
}

/** The receipts that a card paid at least in part, in the order of their first lines. */
function chargedReceipts(lines: readonly CardLine[]): { charged: Minor; positions: number[] }[] {
  const byReceipt = new Map<string, { charged: Minor; positions: number[] }>();
  for (const [position, line] of lines.entries()) {
    const receipt = byReceipt.get(line.receiptId) ?? { charged: 0, positions: [] };
    receipt.charged += chargedOf(line);
    receipt.positions.push(position);
    byReceipt.set(line.receiptId, receipt);
  }
  return [...byReceipt.values()].filter(({ charged }) => charged > 0);
}

const chargedOf = ({ card }: CardLine): Minor => card.price + card.tax;
