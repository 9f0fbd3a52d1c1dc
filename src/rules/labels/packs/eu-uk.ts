import type { FibreRules, Pack } from "../pack.ts";
import { finishedPieceRule } from "../rule.ts";
import { englishGb } from "../words/english-gb.ts";
import { french } from "../words/french.ts";
import { german } from "../words/german.ts";
import { spanish } from "../words/spanish.ts";
import { testedCare } from "./tested-care.ts";

const regulation = "Regulation (EU) 1007/2011";

const fibre: FibreRules = {
  duty: {
    covered: "all",
    words: "Goods that are at least 80% textile by weight say their fibres.",
    source: `${regulation}, article 2`,
  },
  coveredByWool: null,
  line: 5_000,
  small: {
    way: "named",
    each: 5_000,
    together: 15_000,
    words:
      'Every fibre is named. Fibres up to 5% each, or up to 15% together, may be "other fibres" only if they cannot easily be stated at the time of making.',
    source: `${regulation}, article 9(1) and (2)`,
    fromMemory: true,
  },
  alwaysNamed: {
    fibres: [],
    words: "Every fibre is named.",
    source: `${regulation}, article 9(1)`,
    fromMemory: true,
  },
  functional: null,
  leftOut: {
    ornament: {
      limit: 7_000,
      of: "whole",
      words: "Visible, separable, purely decorative fibres up to 7% may be left out.",
      source: `${regulation}, article 10`,
      fromMemory: true,
    },
    antistatic: {
      limit: 2_000,
      of: "whole",
      words: "Threads against static up to 2% may be left out.",
      source: `${regulation}, article 10`,
      fromMemory: true,
    },
  },
  counted: finishedPieceRule,
  order: {
    words: "Fibres stand in order of weight, heaviest first.",
    source: `${regulation}, article 9(1)`,
    fromMemory: true,
  },
  names: {
    words: "Only the names of Annex I may be used: viscose, polyamide and elastane among them.",
    source: `${regulation}, Annex I`,
    fromMemory: true,
  },
  brand: {
    words: "A trade name may stand only beside the name of Annex I.",
    source: `${regulation}, article 16`,
    fromMemory: true,
  },
  single: {
    words: '"100%", "pure" and "all" are only for one fibre.',
    source: `${regulation}, article 7`,
  },
  sections: {
    words: "Parts of different fibre are listed one by one.",
    source: `${regulation}, article 11`,
    fromMemory: true,
  },
  outerSurface: null,
  unknown: {
    words: "Fibres nobody can tell are said to be unknown; that wording is ours.",
    source: "House rule",
  },
  union: {
    leastLinen: 40_000,
    words:
      "Pure cotton warp with pure linen weft, linen at least 40% of the weight, may be called cotton linen union.",
    source: `${regulation}, article 9(3)`,
    fromMemory: true,
  },
  animalParts: {
    words: "Leather, fur, horn or feather parts are said in the words of the law.",
    source: `${regulation}, article 12`,
    fromMemory: true,
  },
  woolProduct: null,
  tolerance: {
    words: "In making, a fibre may be off by 3% of the total fibre weight.",
    source: `${regulation}, article 20`,
    fromMemory: true,
  },
};

const shared: Omit<Pack, "code" | "name" | "law" | "languages" | "words" | "languageRule"> = {
  together: false,
  fibre,
  identity: {
    required: false,
    needsAddress: false,
    number: null,
    words:
      "The fibre law does not ask for a maker's name; other duties of traders may. Check local rules.",
    source: `${regulation}; other duties from memory`,
  },
  origin: {
    print: {},
    words: "The fibre law does not ask where a piece was made.",
    source: regulation,
  },
  care: {
    required: [],
    permanent: [],
    basis: testedCare,
    symbols: "iso",
    symbolNote: {
      words:
        "The care pictograms are claimed as trade marks, also in look-alike form; in some countries their use needs a licence. Our words always print.",
      source: "WIPO 211 246 and 247, 461 479, 492 423, 849 319",
    },
    words: "Care words are voluntary.",
    source: regulation,
  },
  title: {
    absent: {
      words: "A title must not suggest a fibre the piece does not hold.",
      source: `${regulation}, article 16`,
      fromMemory: true,
    },
    oneOfSeveral: {
      words: "A title that names one fibre of several stands apart from the full content.",
      source: `${regulation}, article 16`,
      fromMemory: true,
    },
    bamboo: {
      words: "Cloth of dissolved bamboo pulp is viscose; bamboo is no fibre name of Annex I.",
      source: `${regulation}, Annex I`,
      fromMemory: true,
    },
    virgin: null,
    pointer: {
      "en-GB": "See the label for all fibres.",
      fr: "Voir l'étiquette pour toutes les fibres.",
      es: "Véase la etiqueta para todas las fibras.",
      de: "Alle Fasern stehen auf dem Etikett.",
    },
  },
};

export const europeanUnion: Pack = {
  ...shared,
  code: "eu",
  name: "European Union",
  law: regulation,
  languages: ["en-GB", "fr", "es", "de"],
  languageRule: {
    words: "The label is in the official language of the state where the piece is sold.",
    source: `${regulation}, article 16(3)`,
    fromMemory: true,
  },
  words: { "en-GB": englishGb, fr: french, es: spanish, de: german },
};

export const unitedKingdom: Pack = {
  ...shared,
  code: "uk",
  name: "United Kingdom",
  law: `${regulation} as kept in domestic law, SI 2012/1102`,
  languages: ["en-GB"],
  languageRule: { words: "The label is in English.", source: "SI 2012/1102", fromMemory: true },
  words: { "en-GB": englishGb },
};
