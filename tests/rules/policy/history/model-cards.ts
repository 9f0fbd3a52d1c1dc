import type { CardFeePolicy } from "../../../../src/rules/policy/card-fee.ts";
import type { Line, Receipt } from "./facts.ts";
import { deal, percent, sum } from "./plain-money.ts";

/** What a card paid of a line's price and of its tax, by line. */
export type CardParts = Map<string, { price: bigint; tax: bigint }>;

const none = { price: 0n, tax: 0n };

export function cardPartsOf(receipts: Receipt[]): CardParts {
  const parts: CardParts = new Map();
  for (const { card, lines, ...receipt } of receipts) {
    if (receipt.void || receipt.kind !== "sale") continue;
    const wanted = lines.flatMap(({ amount, tax }) => [BigInt(amount), BigInt(tax)]);
    const dealt = deal(BigInt(card), wanted);
    for (const [at, { id }] of lines.entries())
      parts.set(id, { price: dealt[2 * at]!, tax: dealt[2 * at + 1]! });
  }
  return parts;
}

/** What the processor is expected to keep. */
export function feePot(lines: Line[], parts: CardParts, policy: CardFeePolicy): bigint {
  if (policy.way !== "charged")
    return percent(sum(lines.map(({ id }) => (parts.get(id) ?? none).price)), policy.rate);
  return sum(
    charges(lines, parts).map(
      ([, charged]) => percent(charged, policy.rate) + BigInt(policy.fixed),
    ),
  );
}

/** Each line's part of the fee; what gifts would bear stays with the guild. */
export function feesOfLines(
  pot: bigint,
  lines: Line[],
  parts: CardParts,
  policy: CardFeePolicy,
): Map<string, bigint> {
  const fees = new Map(lines.map(({ id }) => [id, 0n]));
  const { way, rate, fixed } = policy;
  const share = (whole: bigint, over: Line[], weight: (line: Line) => bigint) => {
    const dealt = deal(whole, over.map(weight));
    for (const [at, { id, donated }] of over.entries()) fees.set(id, donated ? 0n : dealt[at]!);
  };
  if (way === "price" || way === "before-share")
    share(pot, lines, ({ id }) => (parts.get(id) ?? none).price);
  if (way === "charged") {
    const receipts = charges(lines, parts);
    const costs = receipts.map(([, charged]) =>
      fixed === 0 ? charged : charged * BigInt(rate) + BigInt(fixed) * 100_000n,
    );
    for (const [at, part] of deal(pot, costs).entries()) {
      const own = lines.filter(({ receipt }) => receipt === receipts[at]![0]);
      share(part, own, (line) => chargedOf(line, parts));
    }
  }
  return fees;
}

const chargedOf = ({ id }: Line, parts: CardParts): bigint => {
  const { price, tax } = parts.get(id) ?? none;
  return price + tax;
};

function charges(lines: Line[], parts: CardParts): [receipt: string, charged: bigint][] {
  const charged = new Map<string, bigint>();
  for (const line of lines)
    charged.set(line.receipt, (charged.get(line.receipt) ?? 0n) + chargedOf(line, parts));
  return [...charged].filter(([, amount]) => amount > 0n);
}
