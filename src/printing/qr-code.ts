import bwip from "bwip-js/node";

/** Version 1 has 21 × 21 modules (ISO/IEC 18004). */
export const QR_MODULES = 21;

/** Clear paper on every side of a QR code, in modules (ISO/IEC 18004, from memory). */
export const QR_QUIET = 4;

/** Version 1 with the strongest correction holds 17 digits (from memory): every tag number fits. */
const MOST_DIGITS = 17;

/** The dark squares of a tag number's QR code: version 1, correction level H. */
export function qrRows(digits: string): boolean[][] {
  if (!/^\d+$/.test(digits) || digits.length > MOST_DIGITS) {
    throw new RangeError(`A tag's QR code holds up to ${MOST_DIGITS} digits, not "${digits}".`);
  }
  // The library's types leave out this code's own options.
  const options = { eclevel: "H", version: "1" } as object;
  const [drawn] = bwip.raw("qrcode", digits, options);
  if (drawn === undefined || !("pixs" in drawn)) throw new Error("The library drew no squares.");
  return Array.from({ length: QR_MODULES }, (_, row) =>
    drawn.pixs.slice(row * QR_MODULES, (row + 1) * QR_MODULES).map((pixel) => pixel === 1),
  );
}
