const shortest = 1_000;
const longest = 30_000;

/**
 * How long to wait before try number `failed` + 1: doubled each time from 1 to 30 seconds, and up to
 * half of that on top, so that eight tills do not all come back in the same instant.
 */
export function waitBefore(failed: number, chance: number = randomByte()): number {
  const base = Math.min(longest, shortest * 2 ** Math.min(Math.max(failed - 1, 0), 10));
  return Math.min(longest, base + Math.floor((base * chance) / 512));
}

const randomByte = (): number => crypto.getRandomValues(new Uint8Array(1))[0] ?? 0;
