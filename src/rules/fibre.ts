import type { FieldError } from "./problem.ts";

/**
 * Generic fibre names as a label in the United States uses them (15 U.S.C. 68b and 70b, 16 CFR
 * 300 and 303; the names of manufactured fibres from memory). A shared trade name never stands here.
 */
export const fibreNames = {
  cotton: "Cotton",
  linen: "Linen",
  hemp: "Hemp",
  ramie: "Ramie",
  jute: "Jute",
  silk: "Silk",
  wool: "Wool",
  "recycled-wool": "Recycled Wool",
  mohair: "Mohair",
  cashmere: "Cashmere",
  alpaca: "Alpaca",
  camel: "Camel",
  llama: "Llama",
  vicuna: "Vicuna",
  "angora-rabbit": "Angora Rabbit Hair",
  yak: "Yak Hair",
  rayon: "Rayon",
  viscose: "Viscose",
  "bamboo-rayon": "Rayon made from bamboo",
  lyocell: "Lyocell",
  acetate: "Acetate",
  acrylic: "Acrylic",
  modacrylic: "Modacrylic",
  nylon: "Nylon",
  polyester: "Polyester",
  olefin: "Olefin",
  spandex: "Spandex",
  rubber: "Rubber",
  metallic: "Metallic",
  other: "Other Fiber",
  unknown: "Unknown Fibers",
} as const;

export type FibreCode = keyof typeof fibreNames;

/** A fibre's share of the finished piece by weight, in whole percents from 1 to 100. */
export interface Fibre {
  fibre: string;
  percent: number;
}

export const isFibreCode = (code: string): code is FibreCode => Object.hasOwn(fibreNames, code);

/** What is wrong with a list of fibres: names known, none twice, whole percents that make 100. */
export function checkFibres(fibres: readonly Fibre[], field = "fibres"): FieldError[] {
  if (fibres.length === 0) return [{ field, message: "Choose at least one fibre." }];
  const errors = fibres.flatMap(({ fibre, percent }, index) => {
    const at = `${field}.${index}`;
    const wrong: FieldError[] = [];
    if (!isFibreCode(fibre))
      wrong.push({ field: `${at}.fibre`, message: "Choose a fibre from the list." });
    else if (fibres.findIndex((other) => other.fibre === fibre) < index)
      wrong.push({
        field: `${at}.fibre`,
        message: `${fibreNames[fibre]} is in the list twice. Add the two percentages together.`,
      });
    if (!Number.isSafeInteger(percent) || percent < 1 || percent > 100)
      wrong.push({ field: `${at}.percent`, message: "Type a whole percentage from 1 to 100." });
    return wrong;
  });
  if (errors.length > 0) return errors;
  const sum = fibres.reduce((percents, { percent }) => percents + percent, 0);
  if (sum === 100) return [];
  const fix = sum < 100 ? `${100 - sum} more` : `${sum - 100} less`;
  return [{ field, message: `The fibres add up to ${sum} %. They need to make 100: ${fix}.` }];
}

/**
 * "60% Cotton, 40% Linen": by weight, ties by the alphabet, other and unknown fibres last
 * (16 CFR 303.16(a); the order of ties and of unknown fibres is our own). Throws for unknown codes.
 */
export function fibreText(fibres: readonly Fibre[]): string {
  return fibres
    .map(({ fibre, percent }) => {
      if (!isFibreCode(fibre)) throw new RangeError(`Not a fibre we know: ${fibre}`);
      return { last: lastPlaces.indexOf(fibre), percent, name: fibreNames[fibre] };
    })
    .sort(
      (one, other) =>
        one.last - other.last || other.percent - one.percent || (one.name < other.name ? -1 : 1),
    )
    .map(({ percent, name }) => `${percent}% ${name}`)
    .join(", ");
}

/** Not found is -1, so every named fibre comes before these two. */
const lastPlaces: readonly string[] = ["other", "unknown"];
