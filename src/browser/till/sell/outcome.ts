import type { CatalogueItem } from "../../../contract/till-device.ts";
import { readTag, showTag, type TagLength } from "../../../rules/tag-number.ts";
import { type Basket, lineOf, withLine } from "./basket.ts";
import { itemLine } from "./lines.ts";

/** What a scan can lead to; each has a colour, a sign, words and a sound of its own. */
export type OutcomeKind = "added" | "here" | "sold" | "not-in" | "unknown" | "misread";

export interface Outcome {
  kind: OutcomeKind;
  words: string;
  basket: Basket;
  /** The tag that was read, when its check digits fit. */
  tag?: string;
  /** The piece that is not here to be sold by the list, yet lies on the counter. */
  item?: CatalogueItem;
}

export interface Reading {
  find(tag: string): CatalogueItem | undefined;
  tagLength: number;
  /** A moment in the guild's time, "10:42". */
  time(at: string): string;
  newId(): string;
}

/** Reads a tag and says what comes of it, from the till's own list alone. */
export function outcomeOf(basket: Basket, text: string, reading: Reading): Outcome {
  const read = readTag(text, [reading.tagLength === 10 ? 10 : (8 satisfies TagLength)]);
  if (!read.ok) return { kind: "misread", words: read.problem.detail, basket };
  const tag = read.value;
  const item = reading.find(tag);
  const there = lineOf(basket, tag);
  const name = `${showTag(tag)} ${item?.description ?? there?.description ?? ""}`.trim();
  if (there && there.quantity >= there.most)
    return { kind: "here", words: hereWords(name, there.most), basket, tag };
  if (!item) return { kind: "unknown", words: unknownWords(tag), basket, tag };
  if (item.state === "sold" || (item.state === "on-floor" && item.onFloor < 1))
    return { kind: "sold", words: soldWords(name, item, reading), basket, tag, item };
  if (item.state !== "on-floor")
    return { kind: "not-in", words: `${name} ${notInWords[item.state]}`, basket, tag, item };
  const line = itemLine(item, reading.newId());
  return {
    kind: "added",
    words: addedWords(name, (there?.quantity ?? 0) + 1, item),
    basket: withLine(basket, line),
    tag,
  };
}

const notInWords: Record<Exclude<CatalogueItem["state"], "on-floor" | "sold">, string> = {
  "not-checked-in": "has not been checked in. Is it from this sale? Ask the check-in desk.",
  withdrawn: "was taken back by its weaver. Put it aside and ask the chair.",
  "with-guild": "was given to the guild after pick-up. Ask the treasurer.",
  lost: "was reported lost. Good that it is found: tell the chair.",
};

const hereWords = (name: string, most: number): string =>
  most > 1
    ? `All ${most} pieces of ${name} are on this receipt.`
    : `${name} is on this receipt already. Nothing was added.`;

const unknownWords = (tag: string): string =>
  `${showTag(tag)} is not in the list of this sale. Read the tag again; if it is right, sell the piece by its description.`;

function soldWords(name: string, { sold }: CatalogueItem, { time }: Reading): string {
  if (!sold) return `${name} has been sold already. Put it aside and ask the chair.`;
  return `${name} was sold at till ${sold.till} at ${time(sold.at)}, receipt ${sold.receipt}. Put it aside and ask the chair.`;
}

function addedWords(
  name: string,
  quantity: number,
  { piecesInSet, onFloor }: CatalogueItem,
): string {
  const set = piecesInSet > 1 ? ` This is a set of ${piecesInSet}: it stays together.` : "";
  const stack = onFloor > 1 ? ` ${quantity} of ${onFloor} on the floor.` : "";
  return `${name}.${set}${stack}`;
}
