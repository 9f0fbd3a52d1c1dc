import type { FibreRules, Pack } from "../pack.ts";
import { finishedPieceRule } from "../rule.ts";
import { englishUs } from "../words/english-us.ts";

const clothing = ["apparel", "child-apparel", "sleepwear"] as const;
const covered = ["gloves", "towel", "household", "baby-blanket", "rug", "filled"] as const;
const worn = ["headwear", "footwear", "neckwear", "jewellery", "band"] as const;
const others = ["table", "wall", "bag", "ornament", "toy", "cosy", "other"] as const;

const fibre: FibreRules = {
  duty: {
    covered: [...clothing, ...covered, "yardage", "yarn"],
    words: "The law covers clothing, household textiles, rugs, cloth and yarn.",
    source: "16 CFR 303.45(a), as listed by the Federal Trade Commission",
    fromMemory: true,
  },
  coveredByWool: {
    groups: [...worn, ...others],
    words: "Anything that holds wool is a wool product and needs the label.",
    source: "15 U.S.C. 68(d)",
  },
  line: 5_000,
  small: {
    way: "lumped",
    words: 'A fibre under 5% is not named; it stands last as "Other Fiber".',
    source: "16 CFR 303.3(a)",
  },
  alwaysNamed: {
    fibres: [
      ...(["wool", "superwash-wool", "recycled-wool", "mohair", "cashmere"] as const),
      ...(["alpaca", "camel", "llama", "vicuna"] as const),
    ],
    words: "Wool and speciality hair are named at any amount.",
    source: "15 U.S.C. 68b(a)(2)(A); 16 CFR 300.3(b), 300.18 and 300.19(b)",
  },
  functional: {
    words: "A fibre under 5% may be named when it has a clear, definite purpose at that amount.",
    source: "16 CFR 303.3(a), proviso; 300.3(b) for wool products from memory",
  },
  leftOut: {
    ornament: {
      limit: 5_000,
      of: "rest",
      words:
        "Ornament up to 5% of the other fibres' weight may be left out, and the label says so.",
      source: "16 CFR 300.16, 303.26 and 303.27",
      fromMemory: true,
    },
    decoration: {
      limit: 15_000,
      of: "area",
      words: "Decoration up to 15% of the surface may be left out, and the label says so.",
      source: "16 CFR 303.12(a)",
    },
    elastic: {
      limit: 20_000,
      of: "area",
      words: "Elastic up to 20% of the surface may be left out, and the label says so.",
      source: "16 CFR 303.12(b)",
    },
  },
  counted: {
    ...finishedPieceRule,
    source: "15 U.S.C. 70j(a) for sewing thread; the rest from memory",
  },
  order: {
    words: "Fibres stand in order of weight, heaviest first, other and unknown fibres last.",
    source: "16 CFR 303.16(a) and 300.28(b)",
  },
  names: {
    words: "Every fibre of 5% or more has its generic name, in full and in English.",
    source: "16 CFR 303.4, 303.5, 303.6(a) and 303.7",
  },
  brand: {
    words: "A fibre's trade name may stand only beside its generic name, in the same size.",
    source: "16 CFR 303.17(a)",
  },
  single: {
    words: '"100%" is only for a piece that is wholly one fibre.',
    source: "16 CFR 303.27",
    fromMemory: true,
  },
  sections: {
    words: "Sections of different fibre are listed one by one.",
    source: "16 CFR 303.22 to 303.25",
  },
  outerSurface: {
    groups: ["rug"],
    words: "A rug's label gives the fibres of its face; the backing is left out.",
    source: "16 CFR 303.10 and 303.11",
    fromMemory: true,
  },
  unknown: {
    words: "Fibres nobody can tell are said to be unknown and stand last.",
    source: "16 CFR 303.14 and 300.28(b)",
  },
  union: null,
  animalParts: null,
  woolProduct: {
    except: ["rug"],
    words:
      "A wool product has no set tolerance: a share may be off only where due care could not avoid it.",
    source: "15 U.S.C. 68b(a)(2)(A); that rugs are no wool products, 68j, from memory",
  },
  tolerance: {
    words:
      "In a blend a fibre may be off by 3 points if that could not be avoided; a single fibre may not.",
    source: "16 CFR 303.43",
    fromMemory: true,
  },
};

export const unitedStates: Pack = {
  code: "us",
  name: "United States",
  law: "Textile and Wool Acts, 16 CFR 300, 303 and 423",
  languages: ["en-US"],
  together: false,
  languageRule: {
    words: "The label is in English, without abbreviations or footnotes.",
    source: "16 CFR 303.4, 303.5 and 300.9",
  },
  words: { "en-US": englishUs },
  fibre,
  identity: {
    required: true,
    needsAddress: false,
    number: { prefix: "RN", digits: /^\d{4,6}$/, example: "RN 12345" },
    words:
      "The label names the maker or another business that answers for the piece, by the name it does business under or by its registered number.",
    source: "16 CFR 303.19, 303.20 and 300.13",
  },
  origin: {
    print: {
      "en-US": {
        wholly: "Made in USA",
        imported: "{verb} in USA of imported {material}",
        mixed: "{verb} in USA of domestic and imported {material}",
        abroad: "{verb} in {country}",
        home: ["usa", "us", "u s a", "u s", "united states", "america"],
        crafts: {
          woven: { verb: "Woven", material: "yarn" },
          knitted: { verb: "Knitted", material: "yarn" },
          felted: { verb: "Felted", material: "fiber" },
          spun: { verb: "Spun", material: "fiber" },
          sewn: { verb: "Sewn", material: "fabric" },
        },
      },
    },
    words:
      "The label says where the piece was made, and that the yarn was imported if it was: a weaver looks one step back, to the yarn.",
    source: "16 CFR 303.33",
  },
  care: {
    required: [...clothing, "yardage"],
    permanent: clothing,
    basis: {
      words:
        'Care words need a reasonable basis. To choose harder care than advised, wash a sample and tick "I have tested this".',
      source: "16 CFR 423.6(c)",
      fromMemory: true,
    },
    symbols: "astm",
    words:
      "Clothing needs a care label that stays on and legible for the life of the piece; a hang-tag alone does not do. Cloth for clothing has its care text at the end of the bolt.",
    source: "16 CFR 423.1(a), 423.3 and 423.6(a); 423.7 from memory",
    symbolNote: {
      words:
        "Symbols without words have to be those of the 1996 edition; newer ones only beside full words. Our words always print.",
      source: "ASTM D5489-96c, as the Federal Trade Commission takes it up",
    },
  },
  title: {
    absent: {
      words: "Words that suggest a fibre the piece does not hold are barred.",
      source: "16 CFR 303.18",
    },
    oneOfSeveral: {
      words: "A tag that names one fibre of several has to say where the full content is.",
      source: "16 CFR 303.17(b)",
    },
    bamboo: {
      words:
        'Cloth of dissolved bamboo pulp is rayon or viscose: say so, with "made from bamboo" if you like.',
      source: "Federal Trade Commission; 16 CFR 303.7",
    },
    virgin: {
      words: "Only wool that was never reclaimed may be called virgin or new.",
      source: "16 CFR 300.20",
    },
    pointer: { "en-US": "See label for the product's full fiber content." },
  },
};
