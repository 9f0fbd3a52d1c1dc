/** More than a slow answer explains, and enough to put a receipt on the wrong side of an hour. */
const mostOff = 120_000;

/** Whether a clock that is so many milliseconds ahead (below zero: behind) is to be told of. */
export const isClockOff = (ahead: number): boolean => Math.abs(ahead) > mostOff;

/** The moments by which a server judges the clock of a till. */
export interface ClockEvidence {
  /** By how much the till's clock was ahead as it sent, when it said so. */
  said: number;
  /** When the drawer was opened and when the receipt arrived, both by the server's clock. */
  openedAt: string;
  arrivedAt: string;
}

/**
 * By how many milliseconds the till's clock was ahead when it made a receipt, as far as anybody can
 * know; 0 when nothing speaks against it. A clock that was set right since is still given away by a
 * receipt made after it arrived, or before its drawer was opened.
 */
export function clockAheadAt(madeAt: string, { said, openedAt, arrivedAt }: ClockEvidence): number {
  const made = Date.parse(madeAt);
  const tooLate = made - Date.parse(arrivedAt);
  const tooEarly = made - Date.parse(openedAt);
  if (isClockOff(said)) return said;
  if (tooLate > mostOff) return tooLate;
  return tooEarly < -mostOff ? tooEarly : 0;
}

const units = [
  { name: "day", length: 86_400_000 },
  { name: "hour", length: 3_600_000 },
  { name: "minute", length: 60_000 },
];

/** "3 hours fast", "12 minutes slow": in the largest unit of which there are two or more. */
export function clockOffWords(ahead: number): string {
  const off = Math.abs(ahead);
  const { name, length } = units.find((unit) => off >= 2 * unit.length) ?? units[2]!;
  const count = Math.floor((off + length / 2) / length);
  return `${count} ${name}${count === 1 ? "" : "s"} ${ahead > 0 ? "fast" : "slow"}`;
}
