import bwip from "bwip-js/node";
import { maskPenalty } from "./qr-mask.ts";

/** Version 1 has 21 × 21 modules (ISO/IEC 18004). */
export const QR_MODULES = 21;

/** Clear paper on every side of a QR code, in modules (ISO/IEC 18004, from memory). */
export const QR_QUIET = 4;

/** Version 1 with the strongest correction holds 17 digits (from memory): every tag number fits. */
const MOST_DIGITS = 17;

/** The library counts the eight masks of the standard from 1. */
const MASKS = [1, 2, 3, 4, 5, 6, 7, 8];

/**
 * The dark squares of a tag number's QR code: version 1, correction level H, under the mask that the
 * standard's penalties favour. Every bit of the number flips a fixed set of squares, since error
 * correction and masks are sums by exclusive or. The library draws each set once; adding them up
 * takes a small part of the time it needs for a whole code.
 */
export function qrRows(digits: string): boolean[][] {
  if (!/^\d+$/.test(digits) || digits.length > MOST_DIGITS) {
    throw new RangeError(`A tag's QR code holds up to ${MOST_DIGITS} digits, not "${digits}".`);
  }
  const { zero, bits } = flipsFor(digits.length);
  const first = zero.slice();
  bits.forEach((flips, group) => {
    const value = Number(digits.slice(3 * group, 3 * group + 3));
    flips.forEach((flip, bit) => {
      if ((value >> bit) & 1) add(first, flip);
    });
  });
  const best = bestMasked(first);
  return Array.from({ length: QR_MODULES }, (_, row) =>
    Array.from({ length: QR_MODULES }, (_, column) => best[row * QR_MODULES + column] === 1),
  );
}

function bestMasked(first: Uint8Array): Uint8Array {
  let best = first;
  let least = Number.POSITIVE_INFINITY;
  for (const change of maskChanges()) {
    const masked = first.slice();
    add(masked, change);
    const penalty = maskPenalty(masked, QR_MODULES);
    if (penalty < least) [best, least] = [masked, penalty];
  }
  return best;
}

/** Flips the squares of `sum` that are dark in `flips`. */
function add(sum: Uint8Array, flips: Uint8Array): void {
  for (let at = 0; at < sum.length; at += 1) sum[at]! ^= flips[at]!;
}

interface Flips {
  /** The code of as many noughts, under the first mask. */
  zero: Uint8Array;
  /** For every three digits, which make one binary number (ISO/IEC 18004), what each bit flips. */
  bits: Uint8Array[][];
}

const known = new Map<number, Flips>();

function flipsFor(length: number): Flips {
  let flips = known.get(length);
  if (flips === undefined) {
    flips = readFlips(length);
    known.set(length, flips);
  }
  return flips;
}

function readFlips(length: number): Flips {
  const noughts = "0".repeat(length);
  const zero = drawn(noughts, 1);
  const bits = Array.from({ length: Math.ceil(length / 3) }, (_, group) => {
    const start = 3 * group;
    const end = Math.min(length, start + 3);
    const values = POWERS.filter((power) => power < 10 ** (end - start));
    return values.map((power) => {
      const shown = String(power).padStart(end - start, "0");
      const flip = drawn(noughts.slice(0, start) + shown + noughts.slice(end), 1);
      add(flip, zero);
      return flip;
    });
  });
  return { zero, bits };
}

const POWERS = Array.from({ length: 10 }, (_, bit) => 2 ** bit);

let changes: Uint8Array[] | undefined;

/** What each mask changes against the first one; the same for every number. */
function maskChanges(): Uint8Array[] {
  changes ??= MASKS.map((mask) => {
    const change = drawn("0", mask);
    add(change, drawn("0", 1));
    return change;
  });
  return changes;
}

function drawn(digits: string, mask: number): Uint8Array {
  // The library's types leave out this code's own options.
  const options = { eclevel: "H", version: "1", mask } as object;
  const [code] = bwip.raw("qrcode", digits, options);
  if (code === undefined || !("pixs" in code)) throw new Error("The library drew no squares.");
  return Uint8Array.from(code.pixs);
}
