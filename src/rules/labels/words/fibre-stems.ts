import { type FibreCode, familyOf, fibreCodes } from "../fibres.ts";
import type { Language } from "../language.ts";

/**
 * Words in a title that call a fibre to mind. A word counts when it begins with the stem, or
 * equals it where the stem ends in a full stop ("lin." so that "linge" is left alone). Written
 * without accents. Spellings that only sound like a fibre are here as well, since the rule is
 * about what a buyer takes the word for. The lists are ours; common practice, no source.
 */
export interface FibreStem {
  stem: string;
  fibres: readonly FibreCode[];
  bamboo?: true;
}

const wools = fibreCodes.filter((code) => familyOf(code) === "wool");
/** Wool of sheep alone: cashmere may be called wool, and never merino. */
const sheep: readonly FibreCode[] = ["wool", "superwash-wool", "recycled-wool"];
const rayons: readonly FibreCode[] = ["rayon", "viscose", "bamboo-rayon"];
const stems = (list: string, ...fibres: readonly FibreCode[]): FibreStem[] =>
  list.split(" ").map((stem) => ({ stem, fibres }));

/** The same in every language we print. */
const everywhere: FibreStem[] = [
  ...stems("alpaca alpaga alpaka suri.", "alpaca"),
  ...stems("mohair", "mohair"),
  ...stems("cashmer kashmer kashmir cashmir cachemir kaschmir casimir pashmin", "cashmere"),
  ...stems("angora", "angora-rabbit", "mohair"),
  ...stems("yak. yack.", "yak"),
  ...stems("qiviut qiviuk", "musk-ox"),
  ...stems("llama. lama.", "llama"),
  ...stems("vicun vigogne vikunja", "vicuna"),
  ...stems("ramie ramio", "ramie"),
  ...stems("jute. yute.", "jute"),
  ...stems("merino", ...sheep),
  ...stems("cottolin", "cotton"),
  ...stems("cottolin", "linen"),
  ...stems("rayon viscos viskos", ...rayons),
  ...stems("modal.", "modal"),
  ...stems("lyocell liocel", "lyocell"),
  ...stems("nylon polyamid poliamid", "nylon"),
  ...stems("polyester poliester", "polyester"),
  ...stems("acryl acril polyacryl", "acrylic"),
  ...stems("spandex elast", "spandex"),
  { stem: "bamboo", fibres: rayons, bamboo: true },
  { stem: "bambou", fibres: rayons, bamboo: true },
  { stem: "bambu", fibres: rayons, bamboo: true },
];

const english: FibreStem[] = [
  ...stems("cotton kotton", "cotton"),
  ...stems("linen flax lynen", "linen"),
  ...stems("hemp", "hemp"),
  ...stems("silk sylk silque", "silk"),
  ...stems("lambswool", ...sheep),
  ...stems("wool", ...wools),
  ...stems("camel. camelhair", "camel"),
  ...stems("bison buffalo", "bison"),
  ...stems("possum", "possum"),
];

export const fibreStems: Record<Language, readonly FibreStem[]> = {
  "en-US": [...everywhere, ...english],
  "en-GB": [...everywhere, ...english],
  fr: [
    ...everywhere,
    ...stems("coton", "cotton"),
    ...stems("lin. metis.", "linen"),
    ...stems("chanvre", "hemp"),
    ...stems("soie soyeu", "silk"),
    ...stems("laine lainage", ...wools),
    ...stems("chameau", "camel"),
  ],
  es: [
    ...everywhere,
    ...stems("algodon", "cotton"),
    ...stems("lino. linos.", "linen"),
    ...stems("canamo", "hemp"),
    ...stems("seda. sedas. sedos", "silk"),
    ...stems("lana. lanas.", ...wools),
    ...stems("camello", "camel"),
  ],
  de: [
    ...everywhere,
    ...stems("baumwoll", "cotton"),
    ...stems("leinen halbleinen reinleinen rohleinen flachs", "linen"),
    ...stems("hanf", "hemp"),
    ...stems("seide seiden seidig rohseide naturseide", "silk"),
    ...stems("lammwoll schafwoll", ...sheep),
    ...stems("woll schurwoll naturwoll", ...wools),
    ...stems("kamelhaar", "camel"),
  ],
};

/** Words that say wool was never used before. */
export const virginStems = ["virgin", "vierge", "virgen", "schurwoll"] as const;
