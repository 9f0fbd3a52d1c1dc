import * as z from "zod";
import type { dimensions } from "../rules/sold/groups.ts";

const word = z.string().max(200).optional();

/** Every way to narrow what sold down; the words are the keys of the groups. */
export const soldFilter = z.object({
  where: word.describe("sale:id or outlet:name"),
  year: word,
  kind: word.describe("The code of a kind"),
  fibre: word,
  colour: word,
  band: word,
  pace: word,
}) satisfies z.ZodType<Partial<Record<(typeof dimensions)[number], string | undefined>>>;

const count = z.int();
const coins = z.int();

export const soldFigures = z.object({
  entered: count,
  soldHere: count,
  soldElsewhere: count,
  sold: count,
  given: count,
  givenAmount: coins,
  takings: coins,
  kept: coins,
  left: coins,
  open: coins.describe("Of the takings, what no statement holds yet"),
  averagePrice: coins.nullable(),
  timed: count,
  halfWithin: z.int().nullable().describe("Minutes within which half of the timed pieces sold"),
  pay: z.object({
    perHour: coins.nullable(),
    pieces: count,
    minutes: z.int(),
    withoutMaterials: count,
  }),
});

const groups = z.array(z.object({ key: z.string(), label: z.string(), figures: soldFigures }));
const facts = z.array(z.object({ key: z.string(), words: z.string() }));

export const soldShown = z.object({
  all: soldFigures,
  groups: z.object({
    ...{ where: groups, kind: groups, fibre: groups },
    ...{ colour: groups, band: groups, pace: groups },
  }),
  facts: z.object({ kind: facts, fibre: facts, colour: facts }),
});

export const soldPieceOfMine = z.object({
  key: z.string(),
  where: z.string(),
  whereName: z.string(),
  itemId: z.uuid().nullable(),
  tag: z.string(),
  description: z.string(),
  kind: z.string(),
  kindName: z.string(),
  fibre: z.string(),
  colour: z.string(),
  band: z.int(),
  price: coins,
  entered: count,
  sold: count,
  given: z.boolean(),
  amount: coins,
  kept: coins,
  left: coins,
  open: coins,
  settled: z.boolean(),
  soldAt: z.string().nullable(),
  wait: z.int().nullable(),
  minutes: z.int().nullable(),
  materials: coins.nullable(),
  perHour: coins.nullable(),
});
