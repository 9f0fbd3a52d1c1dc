import type { ItemDetails } from "../../rules/item.ts";
import { emptyDetails } from "../../rules/labels/details.ts";
import type { Dice } from "./dice.ts";
import { type Pattern, patterns } from "./patterns.ts";

const colours = [
  "indigo and natural",
  "madder red",
  "weld yellow",
  "walnut and cream",
  "grey stripes",
  "sea blues",
  "moss and rust",
  "natural white",
  "charcoal",
  "plum and rose",
  "autumn stripes",
  "black and ecru",
];

/** An item as it is entered, but with its price in whole units of money. */
export type Goods = ItemDetails;

const bag = patterns.flatMap((pattern) => Array<Pattern>(pattern.share).fill(pattern));

/** One entry as a member would type it. */
export function makeGoods(dice: Dice): Goods {
  const pattern = dice.pick(bag);
  const colour = dice.pick(colours);
  const piecesInSet = dice.pick(pattern.set ?? [1]);
  const name = dice.pick(pattern.names);
  const technique = dice.pick(pattern.techniques);
  return {
    kind: pattern.kind,
    description: `${name}, ${technique.toLowerCase()}`,
    technique,
    fibres: dice.pick(pattern.blends).map(([fibre, percent]) => ({ fibre, percent })),
    size: dice.pick(pattern.sizes),
    colours: colour,
    label: {
      ...emptyDetails,
      finishes: pattern.finishes ?? [],
      origin: {
        ...emptyDetails.origin,
        materials: dice.pick(["domestic", "imported", "imported"]),
      },
      answers: pattern.answers ?? {},
    },
    price: dice.between(...pattern.price),
    quantity: pattern.stack && dice.chance(35) ? dice.between(2, pattern.stack) : 1,
    piecesInSet,
    donated: dice.chance(3),
    markdown: dice.chance(40),
  };
}
