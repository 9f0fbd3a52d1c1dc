import { showTag } from "../../../rules/tag-number.ts";
import { without } from "./basket.ts";
import { play } from "./sounds.ts";
import type { Till } from "./till.ts";

let checking: { tags: string; answer: Promise<boolean> } | undefined;

/**
 * Before money is taken, asks whether another till sold one of the pieces meanwhile: they come
 * off, and the words say where they went. Without an answer the sale goes on. True when all is
 * well. The same basket is asked about once.
 */
export function checkFloor(till: Till): Promise<boolean> {
  const tags = till.shown.basket.lines.flatMap(({ kind, tag }) => (kind === "item" ? [tag] : []));
  if (!till.parts.line || tags.length === 0) return Promise.resolve(true);
  const about = `${till.shown.basket.id} ${tags.join()}`;
  if (checking?.tags !== about) checking = { tags: about, answer: answerFor(till, tags) };
  return checking.answer;
}

async function answerFor(till: Till, tags: readonly string[]): Promise<boolean> {
  const sold = (await till.parts.line?.checkTags(tags)) ?? [];
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
