import type { FieldError } from "./problem.ts";

/** Fewest characters, for a pass phrase that stands alone (NIST SP 800-63B-4: 15). */
export const shortest = 15;
/** Most bytes we hash: far above any real phrase, below what would keep the server busy. */
export const longestBytes = 1024;

/**
 * Judges a new pass phrase. No rules about digits or signs, no expiry: length is what counts.
 * `known` are words a stranger would try first: the guild's name, the person's own name or e-mail.
 */
export function checkPassphrase(phrase: string, known: readonly string[]): FieldError[] {
  const refusal = (message: string): FieldError[] => [{ field: "passphrase", message }];
  const characters = [...phrase];
  if (characters.length < shortest)
    return refusal(
      `Use at least ${shortest} characters. Four or five plain words are easy to keep in mind.`,
    );
  if (phrase.length > longestBytes / 2) return refusal("Use at most 512 characters.");
  if (new Set(characters.map((character) => character.toLowerCase())).size < 6)
    return refusal("Use more different characters: this one repeats only a few.");
  if (isRun(characters))
    return refusal("Use words instead of a run of neighbouring letters or digits.");
  if (onlyKnownWords(phrase, known))
    return refusal("Use words that are not simply your own name, your e-mail or the guild's name.");
  return [];
}

/** "abcdefghijklmnop" or "123456789012345": each character follows the one before. */
function isRun(characters: readonly string[]): boolean {
  const codes = characters.map((character) => character.codePointAt(0) ?? 0);
  const steps = codes.slice(1).map((code, index) => Math.abs(code - (codes[index] ?? 0)));
  return steps.filter((step) => step === 1 || step === 9).length >= steps.length - 1;
}

/** Takes the known words out: what a stranger cannot guess must still be long enough. */
function onlyKnownWords(phrase: string, known: readonly string[]): boolean {
  const words = known.flatMap((text) => [text, ...text.split(/[^\p{L}\p{N}]+/u)]);
  const longestFirst = words.filter((word) => word.length > 2).sort((a, b) => b.length - a.length);
  let rest = phrase.toLowerCase();
  for (const word of longestFirst) rest = rest.replaceAll(word.toLowerCase(), "");
  return rest.replace(/[^\p{L}\p{N}]/gu, "").length < 6;
}
