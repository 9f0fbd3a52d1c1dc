import type { Language } from "../../../src/rules/labels/language.ts";

const listed = (words: string, from: number, step = 1): [string, number][] =>
  words.split(" ").map((word, index) => [word, from + index * step]);

/** What each word is worth; written from memory of school grammars, apart from the code. */
const english = new Map([
  ...listed("zero one two three four five six seven eight nine ten eleven twelve", 0),
  ...listed("thirteen fourteen fifteen sixteen seventeen eighteen nineteen", 13),
  ...listed("twenty thirty forty fifty sixty seventy eighty ninety hundred", 20, 10),
]);
const values: Record<Language, Map<string, number>> = {
  "en-US": english,
  "en-GB": english,
  fr: new Map([
    ...listed("zéro un deux trois quatre cinq six sept huit neuf dix onze douze treize", 0),
    ...listed("quatorze quinze seize", 14),
    ...listed("vingt trente quarante cinquante soixante", 20, 10),
    ["une", 1],
    ["octante", 80],
  ]),
  es: new Map([
    ...listed("cero un dos tres cuatro cinco seis siete ocho nueve diez once doce trece", 0),
    ...listed("catorce quince dieciséis diecisiete dieciocho diecinueve veinte veintiún", 14),
    ...listed("veintidós veintitrés veinticuatro veinticinco veintiséis veintisiete", 22),
    ...listed("veintiocho veintinueve", 28),
    ...listed("treinta cuarenta cincuenta sesenta setenta ochenta noventa cien", 30, 10),
    ...listed("ciento doscientos trescientos cuatrocientos quinientos seiscientos", 100, 100),
    ...listed("setecientos ochocientos novecientos", 700, 100),
    ...listed("doscientas trescientas cuatrocientas quinientas seiscientas", 200, 100),
    ...listed("setecientas ochocientas novecientas", 700, 100),
    ["una", 1],
    ["veintiuna", 21],
  ]),
  de: new Map([
    ...listed("null ein zwei drei vier fünf sechs sieben acht neun zehn elf zwölf", 0),
    ...listed("dreizehn vierzehn fünfzehn sechzehn siebzehn achtzehn neunzehn", 13),
    ...listed("zwanzig dreißig vierzig fünfzig sechzig siebzig achtzig neunzig", 20, 10),
    ["eins", 1],
    ["eine", 1],
  ]),
};

const hundred = /^(hundred|cents?|hundert)$/;
const thousand = /^(thousand|mille|mil|tausend)$/;
const million = /^(million|millions|millón|millones|millionen)$/;

/** Takes a German compound apart, the longest known word first. */
function german(word: string): string[] {
  const known = [...values.de.keys(), "hundert", "tausend", "millionen", "million", "und"];
  const pattern = new RegExp(known.sort((a, b) => b.length - a.length).join("|"), "gy");
  const parts = word.match(pattern) ?? [];
  if (parts.join("") !== word) throw new Error(`Cannot read "${word}" in ${parts.join("+")}`);
  return parts;
}

/** Reads a number in words back; throws at a word that it does not know. */
export function readNumber(text: string, language: Language): number {
  const words = text
    .toLowerCase()
    .replaceAll("-", " ")
    .replace(/quatre vingts?/g, "octante")
    .split(" ")
    .flatMap((word) => (language === "de" ? german(word) : [word]))
    .filter((word) => !["and", "et", "y", "und"].includes(word));
  let sum = 0;
  let group = 0;
  for (const word of words) {
    if (language !== "es" && hundred.test(word)) group = Math.max(1, group) * 100;
    else if (thousand.test(word)) {
      sum += Math.max(1, group) * 1000;
      group = 0;
    } else if (million.test(word)) {
      sum += group * 1_000_000;
      group = 0;
    } else {
      const value = values[language].get(word);
      if (value === undefined) throw new Error(`No number: "${word}" in "${text}"`);
      group += value;
    }
  }
  return sum + group;
}
