import { type CashCount, denominationsOf } from "./denominations.ts";
import { assertMinor, type Minor } from "./money.ts";

const mostOffers = 5;

/**
 * Amounts of cash that a buyer is likely to hand over for `due`, for the till's quick keys: the
 * exact amount first, then what due comes to in whole notes of one kind. Ascending, distinct,
 * none below `due`, from two to five. Notes far smaller than what is due are left out, since
 * nobody pays a hundred in ones; the three largest always count. Nothing due leaves only nothing.
 * Common practice, no source. `due` should be rounded as cash; throws when it is below zero.
 */
export function likelyNotes(due: Minor, currency: string): Minor[] {
  if (assertMinor(due) < 0) throw new RangeError(`Nothing is handed over for ${due}`);
  if (due === 0) return [0];
  const notes = denominationsOf(currency)
    .filter(({ kind, usual }) => kind === "note" && usual)
    .map(({ value }) => value);
  const near = notes.filter((value, rank) => rank < 3 || value * 10 >= due);
  const largest = notes[0]!;
  const beyond = due - (due % largest) + largest;
  const whole = near.map((value) => due + ((value - (due % value)) % value));
  const offers = [...new Set([due, ...whole])].toSorted((one, other) => one - other);
  return offers.length === 1 ? [due, beyond] : offers.slice(0, mostOffers);
}

/**
 * How to hand over an amount with the fewest notes and coins, largest first, and the `rest` that
 * no usual coin can pay (above zero only where cash should have been rounded first). Taking the
 * largest each time is fewest in every currency of our table. Throws below zero.
 */
export function changeIn(amount: Minor, currency: string): { pieces: CashCount[]; rest: Minor } {
  if (assertMinor(amount) < 0) throw new RangeError(`Change cannot be ${amount}`);
  let rest = amount;
  const pieces: CashCount[] = [];
  for (const { value, usual } of denominationsOf(currency)) {
    const count = (rest - (rest % value)) / value;
    if (!usual || count === 0) continue;
    pieces.push({ value, count });
    rest -= value * count;
  }
  return { pieces, rest };
}
