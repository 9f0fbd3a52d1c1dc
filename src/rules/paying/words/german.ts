const small = [
  ..."null ein zwei drei vier fünf sechs sieben acht neun zehn elf zwölf dreizehn".split(" "),
  ..."vierzehn fünfzehn sechzehn siebzehn achtzehn neunzehn".split(" "),
];
const tens = "_ _ zwanzig dreißig vierzig fünfzig sechzig siebzig achtzig neunzig".split(" ");

/**
 * A whole number of 0 to 999,999,999 in German words before a masculine or neuter noun. What is
 * under a million is one word that begins with "ein" where it can, so that nothing fits in front.
 */
export function germanNumber(number: number): string {
  if (number === 1) return "ein";
  const millions = Math.floor(number / 1_000_000);
  const rest = number % 1_000_000;
  const parts: string[] = [];
  if (millions === 1) parts.push("eine Million");
  if (millions > 1) parts.push(`${withLastOne(underThousand(millions))} Millionen`);
  if (rest > 0 || number === 0) parts.push(withLastOne(underMillion(rest)));
  return parts.join(" ");
}

/** "hunderteins": a one that ends a number carries its "s". */
const withLastOne = (word: string): string => (word.endsWith("ein") ? `${word}s` : word);

function underMillion(number: number): string {
  const thousands = Math.floor(number / 1000);
  const rest = number % 1000;
  if (thousands === 0) return underThousand(rest);
  return `${underThousand(thousands)}tausend${rest === 0 ? "" : underThousand(rest)}`;
}

function underThousand(number: number): string {
  const hundreds = Math.floor(number / 100);
  const rest = number % 100;
  if (hundreds === 0) return underHundred(rest);
  return `${small[hundreds]}hundert${rest === 0 ? "" : underHundred(rest)}`;
}

function underHundred(number: number): string {
  if (number < 20) return small[number] ?? "";
  const ones = number % 10;
  const head = tens[Math.floor(number / 10)] ?? "";
  return ones === 0 ? head : `${small[ones]}und${head}`;
}
