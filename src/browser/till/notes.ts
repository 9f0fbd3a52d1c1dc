/** Notes in use with most currencies, in whole units; without small coins a thousand times as much. */
const notes = [5, 10, 20, 50, 100];

/**
 * The amounts a buyer is likely to hand over for what is left to pay: exactly that, or the next
 * sum that notes of one kind make up. Smallest coins in and out; at most five of them.
 */
export function likelyCash(rest: number, digits: number): number[] {
  if (rest <= 0) return [];
  const unit = digits === 0 ? 1_000 : 10 ** digits;
  const next = notes.map((note) => Math.ceil(rest / (note * unit)) * note * unit);
  return [...new Set([rest, ...next])].sort((one, other) => one - other).slice(0, 5);
}
