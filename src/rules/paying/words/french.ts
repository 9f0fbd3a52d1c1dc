const small = [
  ..."zéro un deux trois quatre cinq six sept huit neuf dix onze douze treize".split(" "),
  ..."quatorze quinze seize dix-sept dix-huit dix-neuf".split(" "),
];
const tens = ["", "", "vingt", "trente", "quarante", "cinquante", "soixante"];

/**
 * A whole number of 0 to 999,999,999 in French words, in the spelling taught before 1990, which
 * stays correct: hyphens below a hundred, an "s" on "cent" and "vingt" only where nothing or a
 * noun follows ("million" is a noun, "mille" is not). `feminine` is the gender of what is counted.
 */
export function frenchNumber(number: number, feminine: boolean): string {
  const parts: string[] = [];
  const millions = Math.floor(number / 1_000_000);
  const thousands = Math.floor(number / 1000) % 1000;
  const rest = number % 1000;
  if (millions > 0)
    parts.push(`${underThousand(millions, false, true)} million${millions > 1 ? "s" : ""}`);
  if (thousands === 1) parts.push("mille");
  if (thousands > 1) parts.push(`${underThousand(thousands, false, false)} mille`);
  if (rest > 0 || number === 0) parts.push(underThousand(rest, feminine, true));
  return parts.join(" ");
}

function underThousand(number: number, feminine: boolean, atEnd: boolean): string {
  const hundreds = Math.floor(number / 100);
  const rest = number % 100;
  const words: string[] = [];
  if (hundreds > 1) words.push(small[hundreds] ?? "");
  if (hundreds > 0) words.push(hundreds > 1 && rest === 0 && atEnd ? "cents" : "cent");
  if (rest > 0 || hundreds === 0) words.push(underHundred(rest, feminine, atEnd));
  return words.join(" ");
}

function underHundred(number: number, feminine: boolean, atEnd: boolean): string {
  const one = feminine ? "une" : "un";
  if (number === 1) return one;
  if (number < 20) return small[number] ?? "";
  if (number === 80) return atEnd ? "quatre-vingts" : "quatre-vingt";
  if (number > 80)
    return `quatre-vingt-${number === 81 ? one : underHundred(number - 80, feminine, atEnd)}`;
  const ten = Math.min(6, Math.floor(number / 10));
  const ones = number - 10 * ten;
  const head = tens[ten] ?? "";
  if (ones === 0) return head;
  if (ones === 1) return `${head} et ${one}`;
  return ones === 11 ? `${head} et onze` : `${head}-${small[ones]}`;
}
