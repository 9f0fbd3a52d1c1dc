import type { CatalogueItem } from "../../../contract/till-device.ts";
import { showTag } from "../../../rules/tag-number.ts";
import type { Line } from "../parts.ts";
import { without } from "./basket.ts";
import { play } from "./sounds.ts";
import type { Till } from "./till.ts";

type Answer = ReturnType<Line["checkTags"]>;

let asked: { about: string; answer: Answer } | undefined;

/**
 * Before money is taken, asks whether another till sold one of the pieces meanwhile: they come
 * off, and the words say where they went. Without an answer the sale goes on by the till's own
 * list, which hears of the others all the time. True when all is well. The server is asked about
 * the same basket once, and again after it had something to say.
 */
export async function checkFloor(till: Till): Promise<boolean> {
  const { basket } = till.shown;
  const { line, goods } = till.parts;
  const tags = basket.lines.flatMap(({ kind, tag }) => (kind === "item" ? [tag] : []));
  if (!line || tags.length === 0) return true;
  const about = `${basket.id} ${tags.join()}`;
  if (asked?.about !== about) asked = { about, answer: line.checkTags(tags) };
  const told = (await asked.answer) ?? [];
  if (told.length > 0) asked = undefined;
  const heard = tags.flatMap((tag) => goods.find(tag) ?? []).filter(isSold);
  const sold = new Map([...told, ...heard].map((item) => [item.tag, item]));
  return takeOff(till, [...sold.values()]);
}

const isSold = ({ state }: CatalogueItem): boolean => state === "sold";

type Gone = Pick<CatalogueItem, "tag" | "description" | "sold">;

function takeOff(till: Till, sold: readonly Gone[]): boolean {
  const { basket } = till.shown;
  const gone = sold.filter(({ tag }) => basket.lines.some((line) => line.tag === tag));
  if (gone.length === 0) return true;
  const words = gone.map(({ tag, description, sold: at }) => {
    const where = at
      ? ` at till ${at.till} at ${till.words.time(at.at)}, receipt ${at.receipt}`
      : "";
    return `${showTag(tag)} ${description} was sold${where}.`;
  });
  till.change({
    basket: gone.reduce((left, { tag }) => without(left, tag), basket),
    ...{ place: "desk", paying: undefined },
    signal: {
      kind: "sold",
      words: `${words.join(" ")} It is off this receipt. Put it aside and ask the chair.`,
    },
  });
  play("sold", till.device.volume);
  return false;
}
