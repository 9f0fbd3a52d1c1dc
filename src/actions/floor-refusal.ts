import type { Database } from "../database/client.ts";
import { type SoldWhere, type TillItem, whereSold } from "../database/till-reads.ts";
import { momentText } from "../rules/moment.ts";
import { floorProblem, floorState, offFloorWords } from "../rules/on-floor.ts";
import { type FieldError, type Problem, problem } from "../rules/problem.ts";
import { showReceiptNumber } from "../rules/receipt-number.ts";
import { showTag } from "../rules/tag-number.ts";

export interface WantedLine {
  tag: string;
  quantity: number;
  /** Where the line stands in what was sent. */
  index: number;
}

/** "at till 2, receipt 2-0017, Nov 28, 2026, 10:42 AM, by …": where to go and whom to ask. */
export const soldWords = ({
  tillNumber,
  receiptNumber,
  at,
  cashier,
  locale,
  timeZone,
}: SoldWhere) =>
  `at till ${tillNumber}, receipt ${showReceiptNumber(tillNumber, receiptNumber)}, ` +
  `${momentText(at, locale, timeZone)}, by ${cashier}`;

/** What keeps these lines from being sold, or undefined when every piece stands on the floor. */
export async function floorRefusal(
  db: Database,
  saleId: string,
  wanted: readonly WantedLine[],
  items: readonly TillItem[],
): Promise<Problem | undefined> {
  const byTag = new Map(items.map((item) => [item.tag, item]));
  const short = wanted.flatMap((line) => {
    const item = byTag.get(line.tag);
    const ours = item?.saleId === saleId ? item : undefined;
    return ours && ours.onFloor >= line.quantity ? [] : [{ ...line, item: ours, known: item }];
  });
  const first = short[0];
  if (!first) return undefined;
  const sold = short.flatMap(({ item }) => (item && item.withBuyer > 0 ? [item.id] : []));
  const places = sold.length > 0 ? await whereSold(db, sold) : [];
  const placeOf = new Map(places.map((place) => [place.itemId, place]));
  const errors: FieldError[] = short.map(({ tag, index, item, known }) => ({
    field: `lines.${index}.tag`,
    message: item
      ? `${showTag(tag)} ${item.description}: ${whyShort(item, placeOf.get(item.id))}`
      : unknownWords(tag, known !== undefined),
  }));
  const code = first.item ? floorProblem(floorState(first.item)) : "unknown-tag";
  const detail = `${errors.map(({ message }) => message).join(" ")} Nothing was recorded; take it off and go on.`;
  return problem(code, detail, errors);
}

export const unknownWords = (tag: string, elsewhere: boolean): string =>
  elsewhere
    ? `${showTag(tag)} belongs to another sale. Put the piece aside and ask the desk.`
    : `No piece has the number ${showTag(tag)}. Read the tag again, or ask the desk.`;

function whyShort(item: TillItem, place: SoldWhere | undefined): string {
  const state = floorState(item);
  const where = place ? ` The last one was sold ${soldWords(place)}.` : "";
  if (state === "on-floor") return `only ${item.onFloor} left on the floor.${where}`;
  if (state === "sold") return place ? `sold ${soldWords(place)}.` : "it has been sold.";
  return offFloorWords[state];
}
