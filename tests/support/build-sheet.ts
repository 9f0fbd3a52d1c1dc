import type { Fibre } from "../../src/rules/fibre.ts";
import type { Length, LengthUnit } from "../../src/rules/weave/measure.ts";
import type { SheetRun, SheetWeft, SheetYarn, WarpSheet } from "../../src/rules/weave/sheet.ts";

/** 8.5 of a unit as a sheet keeps it. */
export const measure = <U extends string>(figure: number, unit: U) => ({
  thousandths: Math.round(figure * 1_000),
  unit,
});

export const percent = (figure: number): number => Math.round(figure * 1_000);

export const pure = (fibre: string): Fibre[] => [{ fibre, percent: 100 }];

export const inches = (figure: number): Length => measure(figure, "in");

/** A yarn numbered by its yards in a pound, or by what `more` says. */
export const buildYarn = (
  yardsPerPound: number | null,
  blend: Fibre[],
  more: Partial<SheetYarn> = {},
): SheetYarn => ({
  name: blend.map(({ fibre }) => fibre).join(" and "),
  number:
    (yardsPerPound && {
      system: "yards-per-pound",
      thousandths: Math.round(yardsPerPound * 1_000),
      plies: 1,
    }) ||
    null,
  ...{ yardage: null, blend, price: null, have: null, soldBy: null },
  ...more,
});

export const pricedByPound = (amount: number): Pick<SheetYarn, "price"> => ({
  price: { amount, per: measure(1, "lb") },
});

/** A weft in picks per inch, or per centimetre. */
export const buildWeft = (
  yarn: number,
  picks: number,
  extra: number,
  unit: "per-in" | "per-cm" = "per-in",
): SheetWeft => ({ by: "picks", yarn, picks: measure(picks, unit), extra: percent(extra) });

export const buildRun = (
  count: number,
  length: { loom: number } | { finished: number },
  wefts: SheetWeft[],
  { hems = 0, fringe = 0, unit = "in", ...more }: RunMore = {},
): SheetRun => ({
  name: "piece",
  count,
  length:
    "loom" in length
      ? { ...measure(length.loom, unit), measured: "loom" }
      : { ...measure(length.finished, unit), measured: "finished" },
  hems: measure(hems, unit),
  fringe: measure(fringe, unit),
  ...{ wefts, weaving: 0, finishing: 0, kind: "" },
  ...more,
});

type RunMore = Partial<Omit<SheetRun, "hems" | "fringe">> & {
  hems?: number;
  fringe?: number;
  unit?: LengthUnit;
};

/** One yarn both ways, nothing lost anywhere, unless `more` says otherwise. */
export const buildSheet = (more: Partial<WarpSheet>): WarpSheet => ({
  units: "inch",
  yarns: [buildYarn(3_360, pure("cotton"))],
  warp: [{ yarn: 0, ends: null }],
  sett: measure(20, "per-in"),
  width: inches(22),
  floatingSelvedges: false,
  runs: [buildRun(1, { loom: 36 }, [buildWeft(0, 20, 0)])],
  ...{ takeUp: 0, shrinkage: 0, drawIn: 0, widthShrinkage: 0 },
  gap: inches(0),
  sampling: inches(0),
  sampleRun: 0,
  loomWaste: inches(0),
  ...{ setUp: 0, setUpBy: "length", haveWarp: null, notes: "" },
  ...more,
});
