import type { CareCode } from "../../rules/care.ts";
import type { FibreCode } from "../../rules/fibre.ts";

export interface Pattern {
  kind: string;
  names: string[];
  techniques: string[];
  blends: [FibreCode, number][][];
  sizes: string[];
  care: CareCode;
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
    share: 24,
    names: ["Kitchen towel", "Hand towel", "Striped towel", "Waffle towel"],
    techniques: ["Plain weave", "Twill", "Waffle weave", "Huck"],
    blends: [cotton, cottolin, halfLinen],
    sizes: ["19 × 27 in", "18 × 26 in", "20 × 30 in"],
    care: "machine-warm-tumble",
    price: [26, 44],
    stack: 6,
  },
  {
    kind: "scarf",
    share: 22,
    names: ["Scarf", "Long scarf", "Lace scarf", "Ribbed scarf"],
    techniques: ["Twill", "Huck lace", "Plain weave", "Deflected doubleweave"],
    blends: [silkLyocell, lyocellSilk, woolSilk, alpacaWool, wool],
    sizes: ["8 × 70 in", "9 × 72 in", "10 × 74 in"],
    care: "hand-wash-flat",
    price: [75, 265],
  },
  {
    kind: "shawl",
    share: 10,
    names: ["Shawl", "Wrap", "Painted-warp shawl", "Stole"],
    techniques: ["Twill", "Turned taqueté", "Lace weave", "Crackle"],
    blends: [woolLyocell, silkLyocell, woolSilk],
    sizes: ["22 × 76 in", "24 × 80 in"],
    care: "hand-wash-flat",
    price: [140, 380],
  },
  {
    kind: "cowl",
    share: 4,
    names: ["Cowl", "Möbius cowl"],
    techniques: ["Twill", "Honeycomb"],
    blends: [wool, alpacaWool],
    sizes: ["10 × 30 in", "9 × 28 in"],
    care: "hand-wash-flat",
    price: [48, 90],
  },
  {
    kind: "vest",
    share: 3,
    names: ["Vest", "Long vest"],
    techniques: ["Log cabin", "Twill"],
    blends: [wool, woolSilk, cotton],
    sizes: ["S", "M", "L", "XL"],
    care: "dry-clean",
    price: [160, 320],
  },
  {
    kind: "napkin",
    share: 6,
    names: ["Bread cloth", "Napkins"],
    techniques: ["Plain weave", "M's and O's"],
    blends: [cotton, halfLinen],
    sizes: ["16 × 16 in", "18 × 18 in"],
    care: "machine-warm-tumble",
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
    care: "machine-gentle-flat",
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
    care: "machine-gentle-flat",
    price: [64, 140],
  },
  {
    kind: "mug-rug",
    share: 6,
    names: ["Mug rug", "Coaster"],
    techniques: ["Rep", "Log cabin", "Inlay"],
    blends: [cotton, wool],
    sizes: ["5 × 7 in", "6 × 8 in"],
    care: "machine-gentle-flat",
    price: [9, 16],
    stack: 8,
  },
  {
    kind: "blanket",
    share: 3,
    names: ["Throw", "Fulled blanket"],
    techniques: ["Twill", "Doubleweave"],
    blends: [wool, alpacaWool],
    sizes: ["46 × 70 in", "50 × 72 in"],
    care: "hand-wash-flat",
    price: [220, 570],
  },
  {
    kind: "baby-blanket",
    share: 2,
    names: ["Baby blanket"],
    techniques: ["Plain weave", "Waffle weave"],
    blends: [cotton],
    sizes: ["32 × 38 in"],
    care: "machine-warm-tumble",
    price: [68, 120],
  },
  {
    kind: "rug",
    share: 3,
    names: ["Rag rug", "Wool rug"],
    techniques: ["Rag weaving", "Boundweave"],
    blends: [cotton, wool],
    sizes: ["28 × 48 in", "30 × 60 in"],
    care: "shake-out",
    price: [95, 260],
  },
  {
    kind: "bag",
    share: 3,
    names: ["Tote", "Shoulder bag"],
    techniques: ["Inkle band handles", "Plain weave"],
    blends: [cotton, cottolin],
    sizes: ["13 × 15 in"],
    care: "spot-clean",
    price: [42, 96],
  },
  {
    kind: "band",
    share: 2,
    names: ["Guitar strap", "Key band"],
    techniques: ["Card weaving", "Inkle"],
    blends: [cotton, wool],
    sizes: ["2 × 60 in", "1 × 8 in"],
    care: "spot-clean",
    price: [12, 58],
    stack: 4,
  },
  {
    kind: "wall-piece",
    share: 1,
    names: ["Small tapestry"],
    techniques: ["Tapestry"],
    blends: [wool],
    sizes: ["12 × 18 in"],
    care: "not-for-washing",
    price: [120, 320],
  },
  {
    kind: "yarn",
    share: 1,
    names: ["Handspun skein"],
    techniques: ["Two-ply"],
    blends: [wool, alpacaWool],
    sizes: ["3.5 oz, 210 yd"],
    care: "hand-wash-flat",
    price: [24, 42],
    stack: 3,
  },
];
