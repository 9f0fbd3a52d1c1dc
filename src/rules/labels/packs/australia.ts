import { groups, notTextile } from "../groups.ts";
import type { FibreRules, Pack } from "../pack.ts";
import { finishedPieceRule } from "../rule.ts";
import { englishGb } from "../words/english-gb.ts";
import { testedCare } from "./tested-care.ts";

const truth = "Australian Consumer Law: no false or misleading claims";
const standard = "Care Labelling Information Standard 2023, F2023L01187";
const careExempt = ["neckwear", "headwear", "rug", "wall", "ornament", "jewellery", "band"];

const fibre: FibreRules = {
  duty: {
    covered: "none",
    words: "No national law asks for fibre content; what is said has to be true.",
    source: truth,
    fromMemory: true,
  },
  coveredByWool: null,
  line: 5_000,
  small: { way: "choice", words: "Naming every fibre is the plain truth.", source: "House rule" },
  alwaysNamed: { fibres: [], words: "Every fibre may be named.", source: "House rule" },
  functional: { words: "Every fibre may be named.", source: "House rule" },
  leftOut: {},
  counted: finishedPieceRule,
  order: { words: "Fibres stand in order of weight, heaviest first.", source: "House rule" },
  names: { words: "Fibres have their generic names.", source: "House rule" },
  brand: { words: "A trade name stands only beside the generic name.", source: "House rule" },
  single: { words: '"100%" is only for one fibre.', source: truth, fromMemory: true },
  sections: { words: "Sections of different fibre are listed one by one.", source: "House rule" },
  outerSurface: null,
  unknown: {
    words: "Fibres nobody can tell are said to be unknown.",
    source: truth,
    fromMemory: true,
  },
  union: null,
  animalParts: null,
  woolProduct: null,
  tolerance: { words: "No tolerance is set: weigh with care.", source: truth, fromMemory: true },
};

export const australia: Pack = {
  code: "australia",
  name: "Australia",
  law: standard,
  languages: ["en-GB"],
  together: false,
  languageRule: { words: "The label is in English.", source: standard },
  words: {
    "en-GB": {
      ...englishGb,
      names: { ...englishGb.names, "recycled-wool": "Recycled wool", nylon: "Nylon" },
      madeFromBamboo: "{name} made from bamboo",
      recycled: "Recycled {name}",
    },
  },
  fibre,
  identity: {
    required: false,
    needsAddress: false,
    number: null,
    words: "The care standard does not ask for a maker's name.",
    source: standard,
  },
  origin: {
    print: {},
    words: "Only imported goods have to say where they come from; what is said has to be true.",
    source: truth,
    fromMemory: true,
  },
  care: {
    required: groups.filter((group) => ![...careExempt, ...notTextile].includes(group)),
    permanent: groups.filter((group) => ![...careExempt, ...notTextile].includes(group)),
    basis: testedCare,
    symbols: "iso",
    symbolNote: {
      words: "Symbols follow AS/NZS 1957:1998 or ISO 3758:2012. Our words always print.",
      source: standard,
    },
    words:
      "A care label is mandatory, household textiles included. Dish cloths, belts, headwear, floor coverings, wall hangings and handicraft items are exempt; our words print all the same.",
    source: standard,
  },
  title: {
    absent: {
      words: "A title must not suggest a fibre the piece does not hold.",
      source: truth,
      fromMemory: true,
    },
    oneOfSeveral: {
      words: "A title that names one fibre of several must not hide the others.",
      source: truth,
      fromMemory: true,
    },
    bamboo: {
      words: 'Cloth of dissolved bamboo pulp is viscose: say "viscose made from bamboo".',
      source: truth,
      fromMemory: true,
    },
    virgin: null,
    pointer: { "en-GB": "See the label for all fibres." },
  },
};
