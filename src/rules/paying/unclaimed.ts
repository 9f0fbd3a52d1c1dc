import { assertMinor, type Minor, total } from "../money.ts";
import { localDayOf } from "../zoned-time.ts";

/** What the guild owes a member and has not paid, or has paid with a cheque nobody cashed. */
export interface Payable {
  memberId: string;
  /** Above zero, in smallest coins. What a member owes the guild is no payable. */
  amount: Minor;
  /** The moment of the settlement that it comes from, as ISO 8601 in UTC. */
  owedSince: string;
  /** The moments at which the member was reminded, in order. */
  reminded: readonly string[];
}

/** Payables of a span of ages in days: from `from` to `to`, both counted in; the last has no end. */
export interface AgeBucket<T extends Payable = Payable> {
  from: number;
  to: number | null;
  payables: T[];
  total: Minor;
}

/** The usual spans of a list of debts: up to 30, 60 and 90 days, and older. */
export const usualLimits: readonly number[] = [30, 60, 90];

/**
 * Whole days on the guild's calendar from one moment to another, so that an evening in the hall
 * and the next morning are a day apart. Nought when a clock that was set back makes it negative.
 */
export function daysBetween(from: string, to: string, zone: string): number {
  const dayNumber = (moment: string) =>
    Date.parse(`${localDayOf(moment, zone)}T00:00:00Z`) / 86_400_000;
  return Math.max(0, dayNumber(to) - dayNumber(from));
}

/**
 * Sorts payables into spans by age at a moment, oldest first in each. Every payable is in one
 * span however old it is: the money stays the member's and never becomes income by waiting. The
 * totals add up to what is given. Throws on amounts that are not above zero and limits that do not
 * rise.
 */
export function agePayables<T extends Payable>(
  payables: readonly T[],
  at: string,
  zone: string,
  limits: readonly number[] = usualLimits,
): AgeBucket<T>[] {
  const rise = limits.every(
    (limit, index) => limit > (index === 0 ? -1 : (limits[index - 1] ?? 0)),
  );
  if (!rise) throw new RangeError(`Limits must rise from nought: ${limits.join(", ")}`);
  for (const { amount } of payables)
    if (assertMinor(amount) <= 0) throw new RangeError(`Not owed to a member: ${amount}`);
  const aged = payables
    .map((payable) => ({ payable, days: daysBetween(payable.owedSince, at, zone) }))
    .sort((one, other) => other.days - one.days);
  const starts = [0, ...limits.map((limit) => limit + 1)];
  return starts.map((from, index) => {
    const to = limits[index] ?? null;
    const inside = aged.filter(({ days }) => days >= from && (to === null || days <= to));
    const found = inside.map(({ payable }) => payable);
    return { from, to, payables: found, total: total(found.map(({ amount }) => amount)) };
  });
}

/** When members are reminded of money that waits for them, in days; both at least one. */
export interface ReminderPlan {
  /** From the day it is owed to the first reminder. */
  first: number;
  /** From one reminder to the next; reminders go on for as long as the money waits. */
  again: number;
}

/**
 * The number of the reminder that a payable is due for at a moment (1 for the first), or null. A
 * guild that was away gets one reminder to send, not every one it missed.
 */
export function reminderDue(
  payable: Payable,
  at: string,
  zone: string,
  plan: ReminderPlan,
): number | null {
  if (plan.first < 1 || plan.again < 1)
    throw new RangeError(`Reminders need a day between them: ${plan.first}, ${plan.again}`);
  const last = payable.reminded.at(-1);
  const waited = daysBetween(last ?? payable.owedSince, at, zone);
  const isDue = waited >= (last === undefined ? plan.first : plan.again);
  return isDue ? payable.reminded.length + 1 : null;
}
