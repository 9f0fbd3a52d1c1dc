import {
  divideHalfEven,
  divideHalfUp,
  isRate,
  type Minor,
  partOf,
  type Rate,
  wholeRate,
} from "../money.ts";

/** Where a half of the smallest coin goes: up (away from zero) or to the even neighbour. */
export type Halves = "up" | "even";

export interface ShareRounding {
  /** Each line by itself, or all lines of a statement together. */
  basis: "line" | "statement";
  halves: Halves;
}

/**
 * A line of one member in the order of recording. `base` is the amount that the guild's rate
 * applies to, in smallest coins, below zero for a return, which names the line that it reverses;
 * `alreadyReturned` counts the pieces that came back before.
 */
export interface ShareLine {
  lineId: string;
  quantity: number;
  base: Minor;
  rate: Rate;
  original?: { lineId: string; quantity: number; alreadyReturned: number };
}

/** The quotient of two whole numbers by the guild's choice; throws as `divideHalfUp` does. */
export const divideBy = (halves: Halves): typeof divideHalfUp =>
  halves === "up" ? divideHalfUp : divideHalfEven;

/** A rate's part of an amount; throws for a rate outside 0 to 100 %. */
export function shareBy(halves: Halves, amount: Minor, rate: Rate): Minor {
  if (!isRate(rate)) throw new RangeError(`A rate must lie between 0 and ${wholeRate}: ${rate}`);
  return divideBy(halves)(BigInt(amount) * BigInt(rate), BigInt(wholeRate));
}

/**
 * The guild's share of each line. Per line, a return takes back its exact part of the share that
 * its sale gave. Per statement, the exact shares are added up and rounded once; a line has what
 * the rounded sum grows by with it. So lines that come afterwards never change earlier ones, and
 * the shares always add up to the rounded whole. Throws for a return of a line that is not here
 * before it, and for a rate outside 0 to 100 %.
 */
export function guildShares(
  lines: readonly ShareLine[],
  { basis, halves }: ShareRounding,
): Minor[] {
  const earlier = new Set<string>();
  for (const { lineId, rate, original } of lines) {
    if (!isRate(rate)) throw new RangeError(`A rate must lie between 0 and ${wholeRate}: ${rate}`);
    if (original && !earlier.has(original.lineId))
      throw new RangeError(`Line ${lineId} takes back line ${original.lineId}, which is not here`);
    earlier.add(lineId);
  }
  return basis === "line" ? sharesPerLine(lines, halves) : sharesOfStatement(lines, halves);
}

function sharesPerLine(lines: readonly ShareLine[], halves: Halves): Minor[] {
  const taken = new Map<string, Minor>();
  return lines.map(({ lineId, quantity, base, rate, original }) => {
    if (original) {
      const before = taken.get(original.lineId)!;
      return 0 - partOf(before, original.quantity, original.alreadyReturned, 0 - quantity);
    }
    const share = shareBy(halves, base, rate);
    taken.set(lineId, share);
    return share;
  });
}

function sharesOfStatement(lines: readonly ShareLine[], halves: Halves): Minor[] {
  const divide = divideBy(halves);
  let exact = 0n;
  let rounded = 0;
  return lines.map(({ base, rate }) => {
    exact += BigInt(base) * BigInt(rate);
    const before = rounded;
    rounded = divide(exact, BigInt(wholeRate));
    return rounded - before;
  });
}
