import { divideHalfUp, type Minor, total } from "../money.ts";
import { isElsewhere, type SoldRow } from "./sold-row.ts";

export interface SoldFigures {
  /** Pieces entered for the guild's sales, and those of them that sold there. */
  entered: number;
  soldHere: number;
  soldElsewhere: number;
  sold: number;
  /** Pieces that were gifts, of `sold`, and what the guild has from them. */
  given: number;
  givenAmount: Minor;
  /** What the member's own pieces sold for. */
  takings: Minor;
  kept: Minor;
  left: Minor;
  /** What no statement holds yet, of `takings`. */
  open: Minor;
  averagePrice: Minor | null;
  /** How many pieces have a known wait, and within how many minutes half of them sold. */
  timed: number;
  halfWithin: number | null;
  pay: PayPerHour;
}

/** What an hour brought, over those pieces alone whose hours are known and whose share is settled. */
export interface PayPerHour {
  perHour: Minor | null;
  pieces: number;
  minutes: number;
  /** Pieces among them whose materials nobody noted: they count as if they had cost nothing. */
  withoutMaterials: number;
}

/** Adds rows up. A figure that the rows cannot give is null, never zero. */
export function figuresOf(rows: readonly SoldRow[]): SoldFigures {
  const own = rows.filter(({ given }) => !given);
  const gifts = rows.filter(({ given }) => given);
  const takings = total(own.map(({ amount }) => amount));
  const ownSold = count(own, ({ sold }) => sold);
  const timed = rows.filter(({ wait, sold }) => wait !== null && sold > 0);
  return {
    entered: count(rows, ({ entered }) => entered),
    soldHere: count(rows, (row) => (isElsewhere(row) ? 0 : row.sold)),
    soldElsewhere: count(rows, (row) => (isElsewhere(row) ? row.sold : 0)),
    sold: count(rows, ({ sold }) => sold),
    given: count(gifts, ({ sold }) => sold),
    givenAmount: total(gifts.map(({ amount }) => amount)),
    takings,
    kept: total(own.map(({ kept }) => kept)),
    left: total(own.map(({ left }) => left)),
    open: total(own.map(({ open }) => open)),
    averagePrice: ownSold > 0 ? divideHalfUp(BigInt(takings), BigInt(ownSold)) : null,
    timed: count(timed, ({ sold }) => sold),
    halfWithin: halfWithin(timed),
    pay: payOf(own),
  };
}

const count = (rows: readonly SoldRow[], of: (row: SoldRow) => number): number =>
  rows.reduce((sum, row) => sum + of(row), 0);

/** The wait within which at least half of the pieces sold. */
function halfWithin(timed: readonly SoldRow[]): number | null {
  const pieces = count(timed, ({ sold }) => sold);
  let sold = 0;
  for (const row of timed.toSorted((one, other) => one.wait! - other.wait!)) {
    sold += row.sold;
    if (2 * sold >= pieces) return row.wait;
  }
  return null;
}

export function payOf(rows: readonly SoldRow[]): PayPerHour {
  const known = rows.filter(
    ({ given, sold, settled, minutes }) => !given && sold > 0 && settled && minutes !== null,
  );
  const minutes = count(known, (row) => row.minutes! * row.sold);
  const earned = total(known.map(({ left, materials, sold }) => left - (materials ?? 0) * sold));
  return {
    perHour: minutes > 0 ? divideHalfUp(BigInt(earned) * 60n, BigInt(minutes)) : null,
    pieces: count(known, ({ sold }) => sold),
    minutes,
    withoutMaterials: count(known, ({ materials, sold }) => (materials === null ? sold : 0)),
  };
}
