/**
 * What a fibre is, whatever the country calls it. `kindOf` names the fibre it is counted with.
 * "wool" follows 15 U.S.C. 68(b): sheep, Angora and Cashmere goat, camel, alpaca, llama, vicuna;
 * "hair" is every other animal, which that law does not call wool.
 */
type Family = "cellulose" | "silk" | "wool" | "hair" | "synthetic" | "metal" | "unclear";

interface FibreNature {
  family: Family;
  kindOf?: string;
}

const nature = <Code extends string>(table: Record<Code, FibreNature>) => table;

export const fibreTable = nature({
  cotton: { family: "cellulose" },
  linen: { family: "cellulose" },
  hemp: { family: "cellulose" },
  ramie: { family: "cellulose" },
  jute: { family: "cellulose" },
  silk: { family: "silk" },
  wool: { family: "wool" },
  "superwash-wool": { family: "wool", kindOf: "wool" },
  "recycled-wool": { family: "wool" },
  mohair: { family: "wool" },
  cashmere: { family: "wool" },
  alpaca: { family: "wool" },
  camel: { family: "wool" },
  llama: { family: "wool" },
  vicuna: { family: "wool" },
  "angora-rabbit": { family: "hair" },
  yak: { family: "hair" },
  "musk-ox": { family: "hair" },
  bison: { family: "hair" },
  possum: { family: "hair" },
  rayon: { family: "cellulose" },
  viscose: { family: "cellulose", kindOf: "rayon" },
  "bamboo-rayon": { family: "cellulose", kindOf: "rayon" },
  modal: { family: "cellulose" },
  lyocell: { family: "cellulose" },
  acetate: { family: "synthetic" },
  acrylic: { family: "synthetic" },
  modacrylic: { family: "synthetic" },
  nylon: { family: "synthetic" },
  polyester: { family: "synthetic" },
  olefin: { family: "synthetic" },
  spandex: { family: "synthetic" },
  rubber: { family: "synthetic" },
  metallic: { family: "metal" },
  other: { family: "unclear" },
  unknown: { family: "unclear" },
  "unknown-reclaimed": { family: "unclear" },
  scraps: { family: "unclear" },
});

export type FibreCode = keyof typeof fibreTable;

export const fibreCodes = Object.keys(fibreTable) as FibreCode[];

export const isFibreCode = (code: string): code is FibreCode => Object.hasOwn(fibreTable, code);

/** The fibre this one is counted with: viscose with rayon, superwash wool with wool. */
export const countedAs = (code: FibreCode): FibreCode =>
  (fibreTable[code].kindOf as FibreCode | undefined) ?? code;

export const familyOf = (code: FibreCode): Family => fibreTable[code].family;
