import * as z from "zod";
import { finishes } from "../rules/labels/care/adjustments.ts";
import { careSteps } from "../rules/labels/care/levels.ts";
import { fibreRoles, sections } from "../rules/labels/contents.ts";
import { emptyDetails } from "../rules/labels/details.ts";
import { crafts } from "../rules/labels/pack.ts";
import { yarnSystems } from "../rules/weave/yarn-number.ts";
import { optionalLine } from "./text.ts";

export const mostFibres = 8;
export const mostParts = 3;
export const mostYarns = 8;

const choice = <const T extends readonly [string, ...string[]]>(values: T) =>
  z.enum(values, "Choose one from the list");
const code = z.string("Choose one from the list").trim().max(40, "Choose one from the list");
const yes = z.boolean("Say true or false").default(false);
/** Far more than any loom holds, and small enough that every product of two stays exact. */
const figure = z
  .int("Give a whole number of thousandths")
  .min(1, "Give more than zero")
  .max(1_000_000_000, "That is more than we can work with");

export const fibreShape = z.strictObject({
  fibre: code.min(1, "Choose a fibre from the list"),
  percent: z.int("Type a whole percentage from 1 to 100"),
  brand: optionalLine(40).optional(),
  role: choice(fibreRoles).optional(),
  madeFrom: z.literal("bamboo", "Say bamboo, or leave it out").optional(),
  reclaimed: z.boolean("Say true or false").optional(),
});

export const fibresShape = z.array(fibreShape).max(mostFibres, `Name at most ${mostFibres} fibres`);

const yarnShape = z.strictObject({
  place: choice(["warp", "weft"]),
  amount: z.strictObject({ unit: choice(["g", "oz", "lb", "m", "yd"]), thousandths: figure }),
  number: z
    .strictObject({
      system: choice(yarnSystems),
      thousandths: figure,
      plies: z.int("Give the plies as a whole number").min(1).max(99, "Give at most 99 plies"),
    })
    .nullable()
    .default(null),
  blend: fibresShape,
});

const partShape = z.strictObject({ section: choice(sections), fibres: fibresShape });

const careShape = z.strictObject({
  chosen: z
    .strictObject({
      wash: choice(careSteps.wash),
      bleach: choice(careSteps.bleach),
      dry: choice(careSteps.dry),
      iron: choice(careSteps.iron),
      professional: choice(careSteps.professional),
    })
    .partial()
    .default({}),
  tested: yes,
});

const millimetres = z
  .int("Give a whole number of millimetres")
  .min(1, "Give more than zero")
  .max(100_000, "That is longer than any cloth of ours");

export const clothShape = z.strictObject({
  milligrams: z
    .int("Give a whole number of milligrams")
    .min(1, "Give more than zero")
    .max(100_000_000, "That is heavier than any cloth of ours"),
  length: millimetres,
  width: millimetres,
});

export const answersShape = z.record(
  z.string().max(40, "There is no such question"),
  z.string().max(40, "Choose one of the answers"),
);

/** What a label needs to know beyond the fibres; all of it may be left out. */
export const labelShape = z.strictObject({
  section: z.union([z.literal(""), choice(sections)], "Choose one from the list").default(""),
  parts: z.array(partShape).max(mostParts, `Name at most ${mostParts} further parts`).default([]),
  area: z
    .int("Give thousandths of a percent")
    .min(0, "Give 0 or more")
    .max(100_000, "Give at most the whole surface")
    .default(0),
  yarns: z.array(yarnShape).max(mostYarns, `List at most ${mostYarns} yarns`).default([]),
  smallFibres: choice(["", "named", "lumped"]).default(""),
  nameOrnament: yes,
  animalParts: yes,
  cottonWarpLinenWeft: yes,
  finishes: z.array(choice(finishes)).max(finishes.length).default([]),
  white: yes,
  care: careShape.default(emptyDetails.care),
  origin: z
    .strictObject({
      craft: z.union([z.literal(""), choice(crafts)]).default(""),
      materials: choice(["", "domestic", "imported", "mixed", "unknown"]).default(""),
      madeAbroadIn: optionalLine(40).default(""),
    })
    .default(emptyDetails.origin),
  answers: answersShape.default({}),
  cloth: clothShape.nullable().default(null),
});

/** As it is kept: with who says that harder care was tested, and when. */
export const keptLabelShape = labelShape.extend({
  care: careShape.extend({ testedBy: z.string().optional(), testedAt: z.string().optional() }),
});
