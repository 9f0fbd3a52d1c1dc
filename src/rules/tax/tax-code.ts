const longest = 20;

/**
 * A short code for a tax from its name: "State tax 4 %" is "state-tax-4". It names the tax in the
 * books for good, whatever the tax is called later. A name without a Latin letter or digit gives
 * "tax"; a code among `taken` gets the next free number behind it.
 */
export function codeOf(name: string, taken: readonly string[]): string {
  const words = name
    .normalize("NFKD")
    .toLowerCase()
    .replace(/\p{M}/gu, "")
    .replace(/[^a-z0-9]+/g, "-")
    .replace(/^-/, "");
  const code = shortened(words, longest) || "tax";
  if (!taken.includes(code)) return code;
  const free = Array.from({ length: taken.length + 1 }, (_, index) => `-${index + 2}`)
    .map((number) => shortened(code, longest - number.length) + number)
    .find((numbered) => !taken.includes(numbered));
  return free!;
}

const shortened = (code: string, most: number): string => code.slice(0, most).replace(/-$/, "");
