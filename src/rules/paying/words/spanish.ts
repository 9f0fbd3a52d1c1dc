const small = [
  ..."cero uno dos tres cuatro cinco seis siete ocho nueve diez once doce trece".split(" "),
  ..."catorce quince dieciséis diecisiete dieciocho diecinueve veinte veintiuno".split(" "),
  ..."veintidós veintitrés veinticuatro veinticinco veintiséis veintisiete".split(" "),
  ..."veintiocho veintinueve".split(" "),
];
const tens = "_ _ _ treinta cuarenta cincuenta sesenta setenta ochenta noventa".split(" ");
const hundredStems = [
  ..."_ ciento doscient trescient cuatrocient quinient seiscient setecient".split(" "),
  ..."ochocient novecient".split(" "),
];

/**
 * A whole number of 0 to 999,999,999 in Spanish words as they stand before a noun: "un",
 * "veintiún", "cien". Ones and hundreds follow the gender of what is counted, also before "mil";
 * "un" before "mil" stays as it is, and millions are masculine.
 */
export function spanishNumber(number: number, feminine: boolean): string {
  const parts: string[] = [];
  const millions = Math.floor(number / 1_000_000);
  const thousands = Math.floor(number / 1000) % 1000;
  const rest = number % 1000;
  if (millions > 0)
    parts.push(`${underThousand(millions, false, false)} mill${millions > 1 ? "ones" : "ón"}`);
  if (thousands === 1) parts.push("mil");
  if (thousands > 1) parts.push(`${underThousand(thousands, feminine, false)} mil`);
  if (rest > 0 || number === 0) parts.push(underThousand(rest, feminine, feminine));
  return parts.join(" ");
}

/** `feminine` is the gender of the hundreds, `feminineOne` that of a one at the end. */
function underThousand(number: number, feminine: boolean, feminineOne: boolean): string {
  if (number === 100) return "cien";
  const hundreds = Math.floor(number / 100);
  const rest = number % 100;
  const words: string[] = [];
  if (hundreds === 1) words.push("ciento");
  if (hundreds > 1) words.push(`${hundredStems[hundreds]}${feminine ? "as" : "os"}`);
  if (rest > 0 || hundreds === 0) words.push(underHundred(rest, feminineOne));
  return words.join(" ");
}

function underHundred(number: number, feminine: boolean): string {
  if (number === 1) return feminine ? "una" : "un";
  if (number === 21) return feminine ? "veintiuna" : "veintiún";
  if (number < 30) return small[number] ?? "";
  const ones = number % 10;
  const head = tens[Math.floor(number / 10)] ?? "";
  return ones === 0 ? head : `${head} y ${underHundred(ones, feminine)}`;
}
