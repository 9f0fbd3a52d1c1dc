import { type Fibre, fibreList } from "../fibre.ts";

/** What weavers write for a fibre beside its own name (common practice, no source). */
const otherWords: Readonly<Record<string, string>> = {
  flax: "linen",
  merino: "wool",
  lambswool: "wool",
  superwash: "superwash-wool",
  angora: "angora-rabbit",
  bamboo: "bamboo-rayon",
  tencel: "lyocell",
  polyamide: "nylon",
  elastane: "spandex",
};

const lettersOf = (text: string): string => text.toLowerCase().replace(/[^\p{L}]/gu, "");

const codeOf = new Map([
  ...Object.entries(otherWords),
  ...fibreList.flatMap(({ code, name }) => [
    [lettersOf(name), code] as const,
    [lettersOf(code), code] as const,
  ]),
]);

export type ReadFibres = { fibres: Fibre[]; message?: undefined } | { message: string };

const howTo = "Write each fibre with its percent, such as: 60 cotton 40 linen.";

/**
 * Reads fibres as people write them in one cell: "60 cotton 40 linen", "cotton 60 %, linen 40 %",
 * "60/40 cotton/linen", or one fibre alone. Whether they make 100 is for `checkFibres` to say.
 */
export function readFibreWords(text: string): ReadFibres {
  const pairs = pairsOf(text);
  if (!pairs) return { message: howTo };
  const stranger = pairs.find(({ word }) => !codeOf.has(lettersOf(word)));
  if (stranger) return { message: `“${stranger.word}” is no fibre of our list.` };
  const uneven = pairs.find(({ percent }) => !/^\d{1,3}$/.test(percent));
  if (uneven) return { message: `Whole percents only, please: ${uneven.percent} is none.` };
  const fibres = pairs.map(({ word, percent }) => ({
    fibre: codeOf.get(lettersOf(word)) ?? "",
    percent: Number(percent),
  }));
  return { fibres };
}

interface Pair {
  word: string;
  percent: string;
}

/** A comma between two digits is a decimal mark, everywhere else it parts one fibre from the next. */
const between = /(?<!\d),|,(?!\d)|[;/+&|\n]|(?<!\p{L})and(?!\p{L})/iu;

/** Undefined when numbers and words do not go together. */
function pairsOf(text: string): Pair[] | undefined {
  const plain = text.normalize("NFKC").replace(/%|\bper ?cent\b/gi, " ");
  const parts = plain.split(between).map(tokensOf);
  const tokens = parts.flat();
  const [numbers, words] = [tokens.filter(isNumber), tokens.filter((one) => !isNumber(one))];
  if (tokens.length === 0) return [];
  if (numbers.length === 0) return words.length === 1 ? [pair("100", words[0])] : undefined;
  if (numbers.length !== words.length) return undefined;
  const said = parts.filter((part) => part.length > 0);
  const shape = tokens.map((one) => (isNumber(one) ? "n" : "w")).join("");
  // "60 cotton 40 linen", "cotton 60 linen 40" and "60/40 cotton/linen" all take them in turn.
  const inTurn = /^(?:(?:nw)+|(?:wn)+|n+w+)$/.test(shape);
  const partByPart = said.every((part) => part.filter(isNumber).length === 1 && part.length === 2);
  if (!inTurn && !partByPart) return undefined;
  return numbers.map((number, index) => pair(number, words[index]));
}

const pair = (percent: string, word = ""): Pair => ({ percent, word });
const isNumber = (token: string): boolean => /^\d/.test(token);

const tokensOf = (text: string): string[] =>
  [...text.matchAll(/\d+(?:[.,]\d+)?|[^\d\s.,:()][^\d,:()]*/gu)].map(([token]) => token.trim());
