import type { Finish } from "../../rules/labels/care/adjustments.ts";
import type { FibreCode } from "../../rules/labels/fibres.ts";

export interface Pattern {
  kind: string;
  names: string[];
  techniques: string[];
  blends: [FibreCode, number][][];
  sizes: string[];
  finishes?: Finish[];
  /** Answers to the questions that its kind calls for. */
  answers?: Record<string, string>;
  /** Whole units of money, lowest and highest. */
  price: [number, number];
  /** More than one: now and then a stack of alike pieces. */
  stack?: number;
  /** Pieces in a set sold as one. */
  set?: number[];
  /** Out of a hundred pieces, about how many are of this kind. */
  share: number;
}

const cotton: [FibreCode, number][] = [["cotton", 100]];
const cottolin: [FibreCode, number][] = [
  ["cotton", 60],
  ["linen", 40],
];
const halfLinen: [FibreCode, number][] = [
  ["linen", 57],
  ["cotton", 43],
];
const silkLyocell: [FibreCode, number][] = [
  ["silk", 68],
  ["lyocell", 32],
];
const lyocellSilk: [FibreCode, number][] = [
  ["lyocell", 80],
  ["silk", 20],
];
const wool: [FibreCode, number][] = [["wool", 100]];
const woolSilk: [FibreCode, number][] = [
  ["wool", 70],
  ["silk", 30],
];
const alpacaWool: [FibreCode, number][] = [
  ["alpaca", 55],
  ["wool", 45],
];
const woolLyocell: [FibreCode, number][] = [
  ["wool", 68],
  ["lyocell", 32],
];

/** What members of a guild bring (common practice, no source): the prices are invented. */
export const patterns: Pattern[] = [
  {
    kind: "towel",
    finishes: ["pre-washed"],
    share: 24,
    names: ["Kitchen towel", "Hand towel", "Striped towel", "Waffle towel"],
    techniques: ["Plain weave", "Twill", "Waffle weave", "Huck"],
    blends: [cotton, cottolin, halfLinen],
    sizes: ["19 × 27 in", "18 × 26 in", "20 × 30 in"],
    price: [26, 44],
    stack: 6,
  },
  {
    kind: "scarf",
    answers: { surface: "plain" },
    share: 22,
    names: ["Scarf", "Long scarf", "Lace scarf", "Ribbed scarf"],
    techniques: ["Twill", "Huck lace", "Plain weave", "Deflected doubleweave"],
    blends: [silkLyocell, lyocellSilk, woolSilk, alpacaWool, wool],
    sizes: ["8 × 70 in", "9 × 72 in", "10 × 74 in"],
    price: [75, 265],
  },
  {
    kind: "shawl",
    finishes: ["hand-dyed"],
    answers: { surface: "plain" },
    share: 10,
    names: ["Shawl", "Wrap", "Painted-warp shawl", "Stole"],
    techniques: ["Twill", "Turned taqueté", "Lace weave", "Crackle"],
    blends: [woolLyocell, silkLyocell, woolSilk],
    sizes: ["22 × 76 in", "24 × 80 in"],
    price: [140, 380],
  },
  {
    kind: "cowl",
    answers: { surface: "plain" },
    share: 4,
    names: ["Cowl", "Möbius cowl"],
    techniques: ["Twill", "Honeycomb"],
    blends: [wool, alpacaWool],
    sizes: ["10 × 30 in", "9 × 28 in"],
    price: [48, 90],
  },
  {
    kind: "vest",
    answers: { surface: "plain", fur: "none" },
    share: 3,
    names: ["Vest", "Long vest"],
    techniques: ["Log cabin", "Twill"],
    blends: [wool, woolSilk, cotton],
    sizes: ["S", "M", "L", "XL"],
    price: [160, 320],
  },
  {
    kind: "napkin",
    share: 6,
    names: ["Bread cloth", "Napkins"],
    techniques: ["Plain weave", "M's and O's"],
    blends: [cotton, halfLinen],
    sizes: ["16 × 16 in", "18 × 18 in"],
    price: [18, 60],
    set: [1, 4],
  },
  {
    kind: "placemats",
    share: 5,
    names: ["Placemats", "Rep placemats"],
    techniques: ["Rep", "Log cabin", "Krokbragd"],
    blends: [cotton, cottolin],
    sizes: ["13 × 18 in", "12 × 18 in"],
    price: [72, 160],
    set: [2, 4, 6],
  },
  {
    kind: "runner",
    share: 5,
    names: ["Table runner", "Overshot runner"],
    techniques: ["Overshot", "Rep", "Summer and winter"],
    blends: [cotton, cottolin, halfLinen],
    sizes: ["14 × 48 in", "14 × 60 in"],
    price: [64, 140],
  },
  {
    kind: "mug-rug",
    share: 6,
    names: ["Mug rug", "Coaster"],
    techniques: ["Rep", "Log cabin", "Inlay"],
    blends: [cotton, wool],
    sizes: ["5 × 7 in", "6 × 8 in"],
    price: [9, 16],
    stack: 8,
  },
  {
    kind: "blanket",
    finishes: ["fulled"],
    share: 3,
    names: ["Throw", "Fulled blanket"],
    techniques: ["Twill", "Doubleweave"],
    blends: [wool, alpacaWool],
    sizes: ["46 × 70 in", "50 × 72 in"],
    price: [220, 570],
  },
  {
    kind: "baby-blanket",
    finishes: ["pre-washed"],
    answers: { "child-age": "under-3", "baby-blanket": "close" },
    share: 2,
    names: ["Baby blanket"],
    techniques: ["Plain weave", "Waffle weave"],
    blends: [cotton],
    sizes: ["32 × 38 in"],
    price: [68, 120],
  },
  {
    kind: "rug",
    share: 3,
    names: ["Rag rug", "Wool rug"],
    techniques: ["Rag weaving", "Boundweave"],
    blends: [cotton, wool],
    sizes: ["28 × 48 in", "30 × 60 in"],
    price: [95, 260],
  },
  {
    kind: "bag",
    answers: { magnet: "none", feathers: "none", fur: "none" },
    share: 3,
    names: ["Tote", "Shoulder bag"],
    techniques: ["Inkle band handles", "Plain weave"],
    blends: [cotton, cottolin],
    sizes: ["13 × 15 in"],
    price: [42, 96],
  },
  {
    kind: "band",
    share: 2,
    names: ["Guitar strap", "Key band"],
    techniques: ["Card weaving", "Inkle"],
    blends: [cotton, wool],
    sizes: ["2 × 60 in", "1 × 8 in"],
    price: [12, 58],
    stack: 4,
  },
  {
    kind: "wall-piece",
    answers: { feathers: "none", fur: "none" },
    share: 1,
    names: ["Small tapestry"],
    techniques: ["Tapestry"],
    blends: [wool],
    sizes: ["12 × 18 in"],
    price: [120, 320],
  },
  {
    kind: "yarn",
    share: 1,
    names: ["Handspun skein"],
    techniques: ["Two-ply"],
    blends: [wool, alpacaWool],
    sizes: ["3.5 oz, 210 yd"],
    price: [24, 42],
    stack: 3,
  },
];
