const small = [
  ..."zero one two three four five six seven eight nine ten eleven twelve thirteen".split(" "),
  ..."fourteen fifteen sixteen seventeen eighteen nineteen".split(" "),
];
const tens = "zero ten twenty thirty forty fifty sixty seventy eighty ninety".split(" ");

/**
 * A whole number of 0 to 999,999,999 in English words. British English puts "and" before the tens
 * and ones ("one hundred and five"), American English keeps "and" for the cents.
 */
export function englishNumber(number: number, british: boolean): string {
  const and = british ? "and " : "";
  const parts: string[] = [];
  const millions = Math.floor(number / 1_000_000);
  const thousands = Math.floor(number / 1000) % 1000;
  const rest = number % 1000;
  if (millions > 0) parts.push(`${underThousand(millions, and)} million`);
  if (thousands > 0) parts.push(`${underThousand(thousands, and)} thousand`);
  if (rest > 0 || number === 0) {
    const link = parts.length > 0 && rest < 100 ? and : "";
    parts.push(link + underThousand(rest, and));
  }
  return parts.join(" ");
}

function underThousand(number: number, and: string): string {
  const hundreds = Math.floor(number / 100);
  const rest = number % 100;
  if (hundreds === 0) return underHundred(rest);
  const head = `${small[hundreds]} hundred`;
  return rest === 0 ? head : `${head} ${and}${underHundred(rest)}`;
}

function underHundred(number: number): string {
  if (number < 20) return small[number] ?? "";
  const ones = number % 10;
  const head = tens[Math.floor(number / 10)] ?? "";
  return ones === 0 ? head : `${head}-${small[ones]}`;
}
