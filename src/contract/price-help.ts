import * as z from "zod";
import { fibreList } from "../rules/fibre.ts";
import { wholeRate } from "../rules/money.ts";
import { largestQuantity } from "../rules/sale-rules.ts";
import { optionalLine } from "./text.ts";

const amount = z
  .int("Give the amount in whole smallest coins")
  .min(0, "Type an amount of zero or more.")
  .max(999_999_999, "This amount is too large.");
const rate = z
  .int("Give the percentage in thousandths of a percent")
  .min(0, "A percentage lies between 0 and 100.")
  .max(wholeRate, "A percentage lies between 0 and 100.");
const minutes = z
  .int("Give the time in whole minutes")
  .min(0, "Give the time in whole minutes")
  .max(60_000, "The most are 999 hours.");
const price = amount.min(1, "Type a price above zero.");

export const wage = amount.min(1, "Type what an hour should bring, above zero.");

/** The own setting; null forgets it. */
export const wageShape = z.strictObject({ wage: wage.nullable() });

const fibre = z.enum(
  fibreList.map(({ code }) => code),
  "Choose a fibre from the list.",
);
const piecesInSet = z
  .int(`Type a whole number from 1 to ${largestQuantity}.`)
  .min(1, `Type a whole number from 1 to ${largestQuantity}.`)
  .max(largestQuantity, `Type a whole number from 1 to ${largestQuantity}.`);

/** What a piece takes and where it is to sell; "none" is a place that is no sale of the guild. */
export const priceHelpShape = z
  .strictObject({
    /** Left out: the sale that takes entries, else the newest. */
    sale: z
      .union([z.uuid(), z.literal("none")], "Choose a sale from the list.")
      .nullable()
      .default(null),
    kind: optionalLine(40).default(""),
    materials: amount.default(0),
    notions: amount.default(0),
    setUp: minutes.default(0),
    weaving: minutes.default(0),
    finishing: minutes.default(0),
    overhead: amount.default(0),
    overheadRate: rate.default(0),
    wage,
    sellOfTen: z
      .int("Type a whole number from 1 to 10.")
      .min(1, "Type a whole number from 1 to 10.")
      .max(10, "Type a whole number from 1 to 10.")
      .default(10),
    /** How many pieces share the entry fee; null when nobody has said. */
    sharedBy: z
      .int("Type a whole number of pieces, such as 12.")
      .min(1, "Type a whole number of pieces, such as 12.")
      .max(99_999, "This is more than one person enters.")
      .nullable()
      .default(null),
    /** A percentage beside those of the sale, such as a shop's. */
    rate: rate.nullable().default(null),
    price: price.nullable().default(null),
    /** What the member expects to sell in all, to see whether working a shift pays. */
    sales: amount.nullable().default(null),
  })
  .refine(
    ({ materials, notions, setUp, weaving, finishing }) =>
      materials + notions + setUp + weaving + finishing > 0,
    {
      path: ["materials"],
      message: "Say what the piece takes: materials, hours or both.",
    },
  )
  .refine(({ sale, rate: own }) => sale !== "none" || own !== null, {
    path: ["rate"],
    message: "Type the percentage that is kept there, or 0.",
  });

export type PriceHelpInput = z.output<typeof priceHelpShape>;

const at = z.object({
  price: z.int(),
  guild: z.int(),
  cardFee: z.int(),
  left: z.int(),
  /** What an hour brings, rounded down; null where no hours are given. */
  pay: z.int().nullable(),
  verdict: z.enum(["pays", "no-hours", "below-wage", "below-cost"]),
});

export const priceHelpShown = z.object({
  sale: z.object({ id: z.uuid(), name: z.string() }).nullable(),
  /** Prices go in steps of this many smallest coins. */
  step: z.int(),
  /** Of one piece that sells, in smallest coins, each rounded by itself. */
  cost: z.object({
    materials: z.int(),
    notions: z.int(),
    overhead: z.int(),
    entryFee: z.int(),
    unsold: z.int(),
    cost: z.int(),
    labour: z.int(),
  }),
  rows: z.array(
    z.object({
      why: z.string(),
      rate: z.int(),
      when: z.enum(["now", "work", "else", "typed"]),
      /** The price that brings the wanted pay, or why there is none. */
      wanted: z.union([at, z.enum(["nothing-left", "too-high"])]),
      /** The asked price, or else the first wanted one; null where no price is. */
      atPrice: at.nullable(),
    }),
  ),
  /** What the sale would not take about the price that is looked at. */
  warnings: z.array(z.string()),
  /** What is left out of the figures. */
  notes: z.array(z.string()),
  shifts: z.array(z.object({ why: z.string(), minutes: z.int(), payPerHour: z.int() })),
});

export const likePiecesQuery = z.object({
  kind: z.string().trim().min(1).max(40),
  fibre: fibre.optional(),
  size: optionalLine(60).optional(),
  piecesInSet: z.coerce.number().pipe(piecesInSet).default(1),
});

export const likePiecesShown = z.object({
  /** Null below five pieces of three other members. */
  pool: z
    .object({
      /** What the pieces have in common beside their kind. */
      alike: z.enum(["kind", "fibre", "size", "fibre-and-size"]),
      pieces: z.int(),
      /** In smallest coins, rounded to whole units: half of the pieces lie between low and high. */
      low: z.int(),
      middle: z.int(),
      high: z.int(),
    })
    .nullable(),
});
