import * as z from "zod";
import {
  areaWeightUnits,
  densityUnits,
  lengthUnits,
  type Unit,
  weightUnits,
} from "../rules/weave/measure.ts";
import { yarnSystems } from "../rules/weave/yarn-number.ts";
import { mostItemsAtOnce } from "./item.ts";
import { fibresShape } from "./label.ts";
import { line, optionalLine, optionalLines } from "./text.ts";
import { versionNumber } from "./version.ts";

export const mostSheetYarns = 6;
export const mostStripes = 12;
export const mostRuns = 6;
export const mostWefts = 2;
export const mostPieces = 99;

/** Far more than any loom holds, so that a slip of the finger is told instead of worked out. */
const mostThousandths = 99_999_999;
const mostMinutes = 600 * 60;

const notNumber = "Type a number, such as 22 or 22.5";
const tooMuch = "That is more than any loom holds. Look at the unit";
const choice = <const T extends readonly [string, ...string[]]>(values: T) =>
  z.enum(values, "Choose one from the list");

/** So many thousandths of a unit; `wanted` is what a person reads when there is nothing. */
const measure = <const U extends readonly [Unit, ...Unit[]]>(units: U, wanted: string) =>
  z.strictObject({
    thousandths: z.int(notNumber).min(1, wanted).max(mostThousandths, tooMuch),
    unit: choice(units),
  });

const lengthOrNone = z.strictObject({
  thousandths: z.int(notNumber).min(0, "Give 0 or more").max(mostThousandths, tooMuch),
  unit: choice(lengthUnits),
});

const share = (most: number) =>
  z
    .int("Type a percentage, such as 10 or 7.5")
    .min(0, "Give 0 or more")
    .max(most, `Give at most ${most / 1_000} percent`);
/** A cloth that loses more than this is felt; a share of everything could not be divided by. */
const loss = share(80_000);
const notListed = "Choose one from the list";
const index = (most: number) =>
  z
    .int(notListed)
    .min(0, notListed)
    .max(most - 1, notListed);
const yarnIndex = index(mostSheetYarns);
const minutes = z
  .int("Type hours, such as 1.5 or 1:30")
  .min(0, "Give 0 or more")
  .max(mostMinutes, "Type at most 600 hours");
const count = z
  .int("Type a whole number of pieces")
  .min(1, "Type at least 1 piece")
  .max(mostPieces, `Type at most ${mostPieces} pieces`);
const kind = z.string("Choose one from the list").trim().max(40, "Choose one from the list");
const weight = (wanted: string) => measure(weightUnits, wanted);

const yarnShape = z.strictObject({
  name: line(60, "Name this yarn, such as 8/2 cotton, natural"),
  number: z
    .strictObject({
      system: choice(yarnSystems),
      thousandths: z
        .int("Type the number on the cone, such as 8")
        .min(1, "Type the number on the cone, such as 8")
        .max(mostThousandths, "No yarn has such a number"),
      plies: z.int("Type the plies as a whole number").min(1, "Give at least 1").max(99),
    })
    .nullable(),
  yardage: z
    .strictObject({
      unit: choice(["yd/lb", "m/kg"]),
      thousandths: z
        .int("Type the length in a pound or a kilogram, such as 3360")
        .min(1_000, "Give at least 1")
        // A form reads "3,360" as 3360, so a third decimal could not be told from thousands.
        .multipleOf(10, "Give at most two decimals")
        .max(999_999_999, "No yarn is as fine as that"),
    })
    .nullable(),
  blend: fibresShape,
  price: z
    .strictObject({
      amount: z
        .int("Give the price as a whole number of smallest coins")
        .min(0, "Give 0 or more")
        .max(1_000_000_000, "No yarn is as dear as that"),
      per: weight("Say for how much yarn the price is"),
    })
    .nullable(),
  have: weight("Type a weight above zero, or leave it empty").nullable(),
  soldBy: weight("Type a weight above zero, or leave it empty").nullable(),
});

const stripeShape = z.strictObject({
  yarn: yarnIndex,
  ends: z
    .int("Type a whole number of ends")
    .min(1, "Type at least 1 end")
    .max(99_999, tooMuch)
    .nullable(),
});

const stripsShape = z.strictObject({
  picks: measure(densityUnits, "Type the picks, such as 5"),
  extra: share(100_000),
  width: measure(lengthUnits, "Type how wide you cut the strips"),
  cloth: measure(lengthUnits, "Type how wide the cloth is that you cut"),
});

const weftShape = z.discriminatedUnion(
  "by",
  [
    z.strictObject({
      by: z.literal("picks"),
      yarn: yarnIndex,
      picks: measure(densityUnits, "Type the picks, such as 20"),
      extra: share(100_000),
    }),
    z.strictObject({
      by: z.literal("area"),
      yarn: yarnIndex,
      weight: measure(areaWeightUnits, "Type what an area of rag weighs, such as 5"),
      strips: stripsShape.optional(),
    }),
  ],
  "Choose picks or weight by area",
);

const runShape = z.strictObject({
  name: line(60, "Say what you weave, such as towels"),
  count,
  length: z.strictObject({
    ...measure(lengthUnits, "Type how long one piece is").shape,
    measured: choice(["loom", "finished"]),
  }),
  hems: lengthOrNone,
  fringe: lengthOrNone,
  wefts: z
    .array(weftShape)
    .min(1, "Choose the weft yarn")
    .max(mostWefts, `Give at most ${mostWefts} wefts`),
  weaving: minutes,
  finishing: minutes,
  kind,
});

/** The plan of a warp as `WarpSheet` has it; what fits together is left to `sheetErrors`. */
export const warpSheetShape = z.strictObject({
  units: choice(["inch", "metric"]),
  yarns: z
    .array(yarnShape)
    .min(1, "Give at least one yarn")
    .max(mostSheetYarns, `Give at most ${mostSheetYarns} yarns`),
  warp: z
    .array(stripeShape)
    .min(1, "Say which yarn is in the warp")
    .max(mostStripes, `Give at most ${mostStripes} stripes`),
  sett: measure(densityUnits, "Type the sett, such as 20"),
  width: measure(lengthUnits, "Type the width in the reed, such as 22"),
  floatingSelvedges: z.boolean("Say true or false"),
  runs: z
    .array(runShape)
    .min(1, "Say what you weave on this warp")
    .max(mostRuns, `Give at most ${mostRuns} sorts of pieces`),
  ...{ takeUp: loss, shrinkage: loss, drawIn: loss, widthShrinkage: loss },
  ...{ gap: lengthOrNone, sampling: lengthOrNone, loomWaste: lengthOrNone },
  sampleRun: index(mostRuns).nullable(),
  setUp: minutes,
  setUpBy: choice(["length", "count"]),
  haveWarp: measure(lengthUnits, "Type a length above zero, or leave it empty").nullable(),
  notes: optionalLines(2_000),
});

export const sheetName = line(60, "Give the sheet a name that you will know again");

export const newSheetShape = z.strictObject({ name: sheetName, sheet: warpSheetShape });
export const sheetChangeShape = newSheetShape.extend({ version: versionNumber });

export type SheetInput = z.output<typeof newSheetShape>;

/** How the pieces of one run get their tags. */
export const taggings = ["each", "alike", "set"] as const;
export type Tagging = (typeof taggings)[number];

const coins = z.int("Give the price as a whole number of smallest coins");

export const enterRowShape = z.strictObject({
  run: index(mostRuns),
  count,
  tagging: choice(taggings).default("each"),
  kind: kind.min(1, "Choose what kind of piece it is"),
  description: line(60, "Say in a few words what it is"),
  technique: optionalLine(60).default(""),
  colours: optionalLine(60).default(""),
  size: optionalLine(40).default(""),
  price: coins,
  markdown: z.boolean("Say true or false").default(false),
});

/** Runs of a sheet to enter as pieces of a sale, from the version of the sheet that was read. */
export const enterFromSheetShape = z.strictObject({
  saleId: z.uuid("Choose a sale"),
  version: versionNumber,
  rows: z
    .array(enterRowShape)
    .min(1, "Tick at least one row")
    .max(mostRuns, `Give at most ${mostRuns} rows`)
    .refine(
      (rows) => rows.reduce((sum, row) => sum + tagsOf(row), 0) <= mostItemsAtOnce,
      `Enter at most ${mostItemsAtOnce} tags at once`,
    ),
  agreementVersion: versionNumber.optional(),
});

/** A tag for each piece, or one for them all. */
export const tagsOf = ({ count: pieces, tagging }: { count: number; tagging: Tagging }): number =>
  tagging === "each" ? pieces : 1;

export type EnterRow = z.output<typeof enterRowShape>;
export type EnterFromSheetInput = z.output<typeof enterFromSheetShape>;
