import { dividedBy, type Fraction, fraction, minus, plus, sumOf, times } from "../fraction.ts";
import { type Minor, type Rate, wholeRate } from "../money.ts";

/** What one piece takes, as its maker says; amounts in smallest coins, `wage` for an hour. */
export interface PieceParts {
  /** All the yarn that it uses up, with its share of sample and waste. */
  materials: Fraction;
  notions: Minor;
  /** Rent, tools, the way to the sale: an amount, a part of materials and labour, or both. */
  overhead: Minor;
  overheadRate: Rate;
  /** This piece's part of the entry fee. */
  entryFee: Fraction;
  minutes: Fraction;
  wage: Minor;
  /** Of ten pieces like this, how many sell: 1 to 10. */
  sellOfTen: number;
}

/** What a piece that sells has to bring in; `cost` is the sum of the parts before it. */
export interface PieceCost {
  materials: Fraction;
  notions: Fraction;
  overhead: Fraction;
  entryFee: Fraction;
  /** Costs of pieces that do not sell, spread over those that do. */
  unsold: Fraction;
  cost: Fraction;
  /** The work on this piece and, spread, on those that do not sell. */
  minutes: Fraction;
  wage: Minor;
  /** The wanted pay for those minutes. */
  labour: Fraction;
}

/**
 * Materials, notions, overhead and a part of the entry fee, plus hours at the wanted pay. That
 * 10 to 15 % of materials and labour is usual for overhead is common practice, no source. Where
 * not all pieces sell, those that do carry cost and work of the others too.
 */
export function pieceCost(parts: PieceParts): PieceCost {
  const { materials, entryFee, wage, sellOfTen } = parts;
  if (!Number.isInteger(sellOfTen) || sellOfTen < 1 || sellOfTen > 10)
    throw new RangeError(`Of ten pieces 1 to 10 can sell, not ${sellOfTen}`);
  const notions = fraction(parts.notions);
  const ownLabour = labourOf(parts.minutes, wage);
  const percent = times(plus(materials, ownLabour), fraction(parts.overheadRate, wholeRate));
  const overhead = plus(fraction(parts.overhead), percent);
  const made = sumOf([materials, notions, overhead, entryFee]);
  const cost = times(made, fraction(10, sellOfTen));
  const minutes = times(parts.minutes, fraction(10, sellOfTen));
  return {
    ...{ materials, notions, overhead, entryFee, unsold: minus(cost, made), cost },
    ...{ minutes, wage, labour: labourOf(minutes, wage) },
  };
}

const labourOf = (minutes: Fraction, wage: Minor): Fraction =>
  dividedBy(times(minutes, fraction(wage)), fraction(60));
