import type { FibreRules, Pack } from "../pack.ts";
import { finishedPieceRule } from "../rule.ts";
import { englishGb } from "../words/english-gb.ts";
import { french } from "../words/french.ts";
import { testedCare } from "./tested-care.ts";

const act = "Textile Labelling Act and C.R.C., c. 1551";

const fibre: FibreRules = {
  duty: {
    covered: "all",
    words: "Textile goods for sale say their fibres by weight.",
    source: act,
  },
  coveredByWool: null,
  line: 5_000,
  small: {
    way: "choice",
    words: 'A fibre under 5% may be named or stand last as "Other fibre".',
    source: act,
  },
  alwaysNamed: { fibres: [], words: "Fibres of 5% or more are always named.", source: act },
  functional: { words: "A fibre under 5% may always be named.", source: act },
  leftOut: {},
  counted: finishedPieceRule,
  order: { words: "Fibres stand in order of weight, heaviest first.", source: act },
  names: { words: "Every fibre has its generic name, in English and in French.", source: act },
  brand: {
    words: "A fibre's trade name may stand only beside its generic name.",
    source: act,
    fromMemory: true,
  },
  single: {
    words: "A single-fibre claim has no tolerance.",
    source: "Competition Bureau, guide to textile labelling",
  },
  sections: {
    words: "Sections of different fibre are listed one by one.",
    source: act,
    fromMemory: true,
  },
  outerSurface: null,
  unknown: {
    words: 'Rags whose fibre cannot be told may be "unknown fibres", with their percentage.',
    source: "Competition Bureau, guide to textile labelling",
  },
  union: null,
  animalParts: null,
  woolProduct: null,
  tolerance: {
    words: "In a blend a fibre may be off by 5 points; a single fibre may not.",
    source: act,
  },
};

export const canada: Pack = {
  code: "canada",
  name: "Canada",
  law: act,
  languages: ["en-GB", "fr"],
  together: true,
  languageRule: {
    words:
      "Fibre text is in English and French; one language is enough only where only that one is used. Quebec asks for more.",
    source: act,
  },
  words: {
    "en-GB": {
      ...englishGb,
      names: {
        ...englishGb.names,
        rayon: "Rayon",
        "bamboo-rayon": "Rayon",
        "recycled-wool": "Reclaimed wool",
        nylon: "Nylon",
        spandex: "Spandex",
        olefin: "Olefin",
        rubber: "Rubber",
      },
      other: { one: "Other fibre", several: "Other fibres" },
      madeFromBamboo: "{name} from bamboo",
      recycled: "Reclaimed {name}",
    },
    fr: {
      ...french,
      names: {
        ...french.names,
        rayon: "Rayonne",
        "bamboo-rayon": "Rayonne",
        "recycled-wool": "Laine récupérée",
        nylon: "Nylon",
        spandex: "Spandex",
        olefin: "Oléfine",
        rubber: "Caoutchouc",
      },
      other: { one: "Autre fibre", several: "Autres fibres" },
      madeFromBamboo: "{name} de bambou",
      recycled: "{name} (fibre récupérée)",
    },
  },
  fibre,
  identity: {
    required: true,
    needsAddress: true,
    number: { prefix: "CA", digits: /^\d{5}$/, example: "CA 12345" },
    words: "The label has the dealer's name and full postal address, or a CA number.",
    source: act,
  },
  origin: {
    print: {},
    words: "This law does not ask where a piece was made; what is said has to be true.",
    source: act,
    fromMemory: true,
  },
  care: {
    required: [],
    permanent: [],
    basis: testedCare,
    symbols: "iso",
    symbolNote: {
      words: "The national care standard was withdrawn in October 2017; the words always print.",
      source: "Competition Bureau, guidance on care labelling",
    },
    words: "Care words are voluntary; once given they have to be true.",
    source: "Competition Bureau, guidance on care labelling",
  },
  title: {
    absent: {
      words: "A title must not suggest a fibre the piece does not hold.",
      source: act,
      fromMemory: true,
    },
    oneOfSeveral: {
      words: "A title that names one fibre of several must not hide the others.",
      source: act,
      fromMemory: true,
    },
    bamboo: {
      words: 'Cloth of dissolved bamboo pulp is rayon: say "rayon from bamboo".',
      source: "Competition Bureau, guidance on bamboo",
      fromMemory: true,
    },
    virgin: null,
    pointer: {
      "en-GB": "See the label for all fibres.",
      fr: "Voir l'étiquette pour toutes les fibres.",
    },
  },
};
