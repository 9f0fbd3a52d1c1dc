import { type Minor, total } from "./money.ts";

/** What the tills recorded as paid by card on a day of the guild's calendar. */
export interface RecordedCards {
  day: string;
  till: number;
  amount: Minor;
}

/** What the terminal or its processor says of a day: of one till, or (null) of all together. */
export interface TerminalTotal {
  day: string;
  till: number | null;
  gross: Minor;
}

/** One day of one till, or the whole day (null); nothing is compared before it is typed in. */
export interface CardMatch {
  day: string;
  till: number | null;
  recorded: Minor;
  terminal: Minor | null;
  /** The terminal's total less what the tills recorded. */
  difference: Minor | null;
}

/**
 * Lays the terminal's totals beside the recorded card payments, day by day: each till, then the
 * whole day. A day is compared once it has a total of all tills together, or one of every till
 * that took cards; before that a missing total would look like missing money.
 */
export function matchCards(
  recorded: readonly RecordedCards[],
  totals: readonly TerminalTotal[],
): CardMatch[] {
  const days = [...new Set([...recorded, ...totals].map(({ day }) => day))].sort();
  return days.flatMap((day) =>
    matchDay(
      day,
      recorded.filter((row) => row.day === day),
      totals.filter((row) => row.day === day),
    ),
  );
}

function matchDay(
  day: string,
  recorded: readonly RecordedCards[],
  totals: readonly TerminalTotal[],
): CardMatch[] {
  const numbers = [...recorded, ...totals].flatMap(({ till }) => (till === null ? [] : [till]));
  const tills = [...new Set(numbers)].sort((one, other) => one - other);
  const rows = tills.map((till) => {
    const taken = total(recorded.filter((row) => row.till === till).map(({ amount }) => amount));
    return compared(day, till, taken, grossOf(totals.filter((row) => row.till === till)));
  });
  const taken = total(recorded.map(({ amount }) => amount));
  const isWhole =
    totals.some(({ till }) => till === null) || rows.every(({ terminal }) => terminal !== null);
  return [...rows, compared(day, null, taken, isWhole ? grossOf(totals) : null)];
}

const grossOf = (totals: readonly TerminalTotal[]): Minor | null =>
  totals.length === 0 ? null : total(totals.map(({ gross }) => gross));

const compared = (
  day: string,
  till: number | null,
  recorded: Minor,
  terminal: Minor | null,
): CardMatch => ({
  ...{ day, till, recorded, terminal },
  difference: terminal === null ? null : terminal - recorded,
});
