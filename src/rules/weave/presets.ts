import type { Fibre } from "../fibre.ts";
import type { Density, Length } from "./measure.ts";
import type { SheetRun, SheetYarn, WarpSheet } from "./sheet.ts";
import type { YarnNumber } from "./yarn-number.ts";

export const presetCodes = ["towels", "scarf", "placemats", "rug", "empty"] as const;
export type PresetCode = (typeof presetCodes)[number];

type Units = WarpSheet["units"];

/** Figures in whole inches or centimetres, with a half where needed: as a weaver says them. */
const length = (units: Units, inches: number, centimetres: number): Length =>
  units === "inch"
    ? { thousandths: inches * 1_000, unit: "in" }
    : { thousandths: centimetres * 1_000, unit: "cm" };
const density = (units: Units, perInch: number, perCentimetre: number): Density =>
  units === "inch"
    ? { thousandths: perInch * 1_000, unit: "per-in" }
    : { thousandths: perCentimetre * 1_000, unit: "per-cm" };
const percent = (share: number): number => share * 1_000;

const count = (system: YarnNumber["system"], figure: number, plies: number): YarnNumber => ({
  ...{ system, plies },
  thousandths: figure * 1_000,
});

const yarnOf = (name: string, number: YarnNumber | null, fibre: string): SheetYarn => {
  const blend: Fibre[] = fibre === "" ? [] : [{ fibre, percent: 100 }];
  return { name, number, yardage: null, blend, price: null, have: null, soldBy: null };
};

/**
 * What a weaver begins from when nothing is known: common practice, no published source. A tenth
 * is lost on the loom and a tenth in the wash, weft runs five percent longer than the cloth is
 * wide, and 30 inches of warp stay on the loom.
 */
const usual = (units: Units): Omit<WarpSheet, "yarns" | "sett" | "width" | "runs"> => ({
  units,
  warp: [{ yarn: 0, ends: null }],
  floatingSelvedges: false,
  ...{ takeUp: percent(10), shrinkage: percent(10), drawIn: percent(5) },
  widthShrinkage: percent(10),
  gap: length(units, 0, 0),
  sampling: length(units, 12, 30),
  sampleRun: 0,
  loomWaste: length(units, 30, 76),
  ...{ setUp: 8 * 60, setUpBy: "length", haveWarp: null, notes: "" },
});

const runOf = (
  units: Units,
  more: Pick<SheetRun, "name" | "count" | "length" | "wefts"> & Partial<SheetRun>,
): SheetRun => ({
  ...{ hems: length(units, 0, 0), fringe: length(units, 0, 0) },
  ...{ weaving: 60, finishing: 20, kind: "" },
  ...more,
});

const weftOf = (picks: Density): SheetRun["wefts"] => [
  { by: "picks", yarn: 0, picks, extra: percent(5) },
];

/**
 * A worked plan to begin from; every figure can be typed over. A towel is woven to 36 inches on
 * the loom in about an hour, a wearable takes three at least (common practice, no source).
 */
export function presetSheet(code: PresetCode, units: Units): { name: string; sheet: WarpSheet } {
  const { name, ...own } = presets[code](units);
  return { name, sheet: { ...usual(units), ...own } };
}

type Own = Pick<WarpSheet, "yarns" | "sett" | "width" | "runs"> & Partial<WarpSheet>;

const presets: Record<PresetCode, (units: Units) => Own & { name: string }> = {
  towels: (units) => ({
    name: "Towels",
    yarns: [yarnOf("8/2 cotton", count("cotton", 8, 2), "cotton")],
    sett: density(units, 20, 8),
    width: length(units, 22, 56),
    runs: [
      runOf(units, {
        ...{ name: "Towel", count: 7, kind: "towel" },
        length: { ...length(units, 36, 92), measured: "loom" },
        hems: length(units, 3, 8),
        wefts: weftOf(density(units, 20, 8)),
      }),
    ],
  }),
  scarf: (units) => ({
    name: "Scarves",
    yarns: [yarnOf("2/18 wool", count("worsted", 18, 2), "wool")],
    sett: density(units, 20, 8),
    width: length(units, 10, 26),
    runs: [
      runOf(units, {
        ...{ name: "Scarf", count: 2, kind: "scarf" },
        length: { ...length(units, 72, 180), measured: "finished" },
        fringe: length(units, 8, 20),
        wefts: weftOf(density(units, 18, 7)),
        ...{ weaving: 3 * 60, finishing: 90 },
      }),
    ],
  }),
  placemats: (units) => ({
    name: "Placemats",
    yarns: [yarnOf("5/2 cotton", count("cotton", 5, 2), "cotton")],
    sett: density(units, 16, 6),
    width: length(units, 15, 38),
    runs: [
      runOf(units, {
        ...{ name: "Placemat", count: 4, kind: "placemats" },
        length: { ...length(units, 18, 46), measured: "finished" },
        hems: length(units, 3, 8),
        wefts: weftOf(density(units, 14, 6)),
      }),
    ],
  }),
  rug: (units) => ({
    name: "Rag rug",
    yarns: [
      yarnOf("8/4 cotton carpet warp", count("cotton", 8, 4), "cotton"),
      yarnOf("Cotton rags", null, "cotton"),
    ],
    sett: density(units, 12, 5),
    width: length(units, 30, 76),
    ...{ shrinkage: 0, widthShrinkage: 0, sampling: length(units, 0, 0), sampleRun: null },
    runs: [
      runOf(units, {
        ...{ name: "Rag rug", count: 1, kind: "rug" },
        length: { ...length(units, 60, 150), measured: "finished" },
        fringe: length(units, 6, 15),
        wefts: [
          {
            ...{ by: "area", yarn: 1 },
            weight:
              units === "inch"
                ? { thousandths: 5_000, unit: "oz/sqft" }
                : { thousandths: 1_500_000, unit: "g/sqm" },
            strips: {
              ...{ picks: density(units, 5, 2), extra: percent(5) },
              width: { thousandths: units === "inch" ? 1_500 : 4_000, unit: lengthUnit(units) },
              cloth: length(units, 44, 110),
            },
          },
        ],
        ...{ weaving: 4 * 60, finishing: 90 },
      }),
    ],
  }),
  empty: (units) => ({
    name: "",
    yarns: [yarnOf("", null, "")],
    sett: density(units, 0, 0),
    width: length(units, 0, 0),
    runs: [
      runOf(units, {
        ...{ name: "", count: 1 },
        length: { ...length(units, 0, 0), measured: "loom" },
        wefts: weftOf(density(units, 0, 0)),
      }),
    ],
  }),
};

const lengthUnit = (units: Units) => (units === "inch" ? ("in" as const) : ("cm" as const));
