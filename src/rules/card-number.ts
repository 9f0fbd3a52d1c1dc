/**
 * Whether a typed text holds what may be a payment card number: 13 to 19 digits in neighbouring
 * groups that pass the Luhn check of ISO/IEC 7812-1. Spaces, hyphens and other marks between the
 * groups do not hide it; letters end a run. Some other long numbers are refused with it, which is
 * the safe side: a card number must never be stored.
 */
export function looksLikeCardNumber(text: string): boolean {
  const runs = text.normalize("NFKC").split(/\p{L}+/u);
  return runs.some((run) => {
    const groups = run.match(/\d+/g) ?? [];
    return groups.some((_, first) => startsCardNumber(groups.slice(first)));
  });
}

/** Luhn: every second digit from the right counts double, a two-digit double by its digit sum. */
export function passesLuhn(digits: string): boolean {
  let sum = 0;
  let double = false;
  for (let position = digits.length - 1; position >= 0; position -= 1) {
    const value = Number(digits[position]) * (double ? 2 : 1);
    sum += value > 9 ? value - 9 : value;
    double = !double;
  }
  return sum % 10 === 0;
}

function startsCardNumber(groups: readonly string[]): boolean {
  let digits = "";
  for (const group of groups) {
    digits += group;
    if (digits.length > 19) return false;
    if (digits.length >= 13 && passesLuhn(digits)) return true;
  }
  return false;
}
