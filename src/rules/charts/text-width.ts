/** Marks and letters that take little room, and those that take most, in the usual typefaces. */
const narrow = /[ !'(),./:;[\]`filjrt|-]/;
const wide = /[MW@%#&mwæÆĦħŉ—…]/;

/**
 * A width in pixels that a text does not exceed in a plain typeface (DejaVu Sans is among
 * the widest), rounded up. Only a browser knows the real one, and a label that comes out shorter
 * does no harm. Letters outside Latin count more than a whole em.
 */
export function textWidth(text: string, size: number): number {
  let hundredths = 0;
  for (const letter of text) hundredths += letterWidth(letter);
  return Math.ceil((hundredths * size) / 100);
}

/** The width of the widest of some texts; nought of none. */
export const widestOf = (texts: readonly string[], size: number): number =>
  Math.max(0, ...texts.map((text) => textWidth(text, size)));

function letterWidth(marked: string): number {
  // A mark over a letter does not make it wider.
  const letter = marked.normalize("NFD").charAt(0);
  if (narrow.test(letter)) return 45;
  if (wide.test(letter)) return 100;
  if (/(?![œŒ])\p{Script=Latin}|[\d\p{P}\p{Sc}]/u.test(letter))
    return /\p{Lu}/u.test(letter) ? 80 : 68;
  return 110;
}

/** The text, or as much of it as the width holds with dots at the end; empty when none does. */
export function fitText(text: string, size: number, width: number): string {
  if (textWidth(text, size) <= width) return text;
  const letters = [...text];
  while (letters.length > 0 && textWidth(`${letters.join("")}…`, size) > width) letters.pop();
  return letters.length === 0 ? "" : `${letters.join("").trimEnd()}…`;
}
