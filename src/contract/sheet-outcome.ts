import * as z from "zod";
import { warpSheetShape } from "./warp-sheet.ts";

/** An exact figure as "3/4" or "12", and the same to four decimals for reading. */
export const figureShape = z.object({ exact: z.string(), decimal: z.string() });

const figure = figureShape;
const index = z.int();

/** What a sheet comes to: metres, grams, smallest coins and minutes, none of them rounded. */
export const sheetOutcomeShape = z.object({
  ends: z.int(),
  stripes: z.array(z.object({ yarn: index, ends: z.int() })),
  ...{ warpLength: figure, wovenLength: figure, totalGrams: figure },
  totalCost: figure.nullable(),
  needs: z.array(
    z.object({
      yarn: index,
      ...{ warpMetres: figure, weftMetres: figure, warpGrams: figure, weftGrams: figure },
      ...{ grams: figure, cost: figure.nullable(), buyGrams: figure },
      buyCones: z.int().nullable(),
    }),
  ),
  runs: z.array(
    z.object({
      ...{ loomLength: figure, finishedLength: figure, widthOffLoom: figure },
      ...{ finishedWidth: figure, grams: figure, gramsPerSquareMetre: figure, share: figure },
      picks: z.int(),
      yarns: z.array(
        z.object({ yarn: index, place: z.enum(["warp", "weft"]), metres: figure, grams: figure }),
      ),
      strips: z.object({ metres: figure, clothMetres: figure }).nullable(),
      making: z.object({
        name: z.string(),
        pieces: z.int(),
        materials: figure,
        pricesKnown: z.boolean(),
        ...{ setUpMinutes: figure, weavingMinutes: figure, finishingMinutes: figure },
      }),
      fromWarp: z.int().nullable(),
      fromYarn: z.int().nullable(),
      /** The fibres as the label of one piece says them, line by line; empty when it cannot. */
      label: z.array(z.string()),
    }),
  ),
  mismatches: z.array(z.object({ yarn: index, typed: figure, nominal: figure })),
});

export type ShownOutcome = z.output<typeof sheetOutcomeShape>;

export const keptSheetShape = z.object({
  id: z.uuid(),
  name: z.string(),
  sheet: warpSheetShape,
  version: z.int(),
  changedAt: z.string(),
  putAwayAt: z.string().nullable(),
});

export const sheetWithOutcome = keptSheetShape.extend({ outcome: sheetOutcomeShape });
