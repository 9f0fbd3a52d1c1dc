import type { CatalogueDelta } from "../../../contract/till-device.ts";
import type { ReceiptFact } from "../../../contract/till-fact.ts";
import type { Goods } from "../parts.ts";
import { listeners } from "./heard.ts";
import { ownPieces, withOwn } from "./own-pieces.ts";
import { inOneStep, readNote, type Shelf } from "./shelf.ts";

export interface KeptGoods extends Goods {
  /** Where the next part of the list begins; undefined while there is none. */
  cursor(): string | undefined;
  /**
   * Puts a part of the list, or the whole of it, in place of what was there. `counted` are the
   * receipts that this part counts already: those that the server had before it was asked.
   */
  apply(delta: CatalogueDelta, counted: readonly string[]): Promise<void>;
  /** The till's own receipts that the server has and the list may not count yet. */
  answeredReceipts(): readonly string[];
  /** A receipt of this till, at once. */
  recorded(receipts: readonly ReceiptFact[]): void;
  /** The server has these entries now. */
  answered(ids: readonly string[]): void;
}

/** Loads the list into memory, once; `till` is the number that stands on this till's receipts. */
export async function openGoods(shelf: Shelf, till: () => number): Promise<KeptGoods> {
  const items = new Map((await shelf.getAll("goods")).map((item) => [item.tag, item]));
  const own = new Map<string, ReceiptFact>();
  for (const { id, fact } of await shelf.getAllFromIndex("past", "waits")) own.set(id, fact);
  const answered = new Set<string>();
  for (const id of own.keys())
    if ((await shelf.getKeyFromIndex("outbox", "id", id)) === undefined) answered.add(id);
  let cursor = await readNote(shelf, "cursor");
  let at = await readNote(shelf, "at");
  let pieces = ownPieces([...own.values()], till());
  const changes = listeners<readonly string[]>();

  const recount = () => {
    pieces = ownPieces([...own.values()], till());
  };
  const recorded = (receipts: readonly ReceiptFact[]) => {
    for (const receipt of receipts) own.set(receipt.id, receipt);
    recount();
    changes.tell(receipts.flatMap(tagsOf));
  };

  return {
    find(tag) {
      const item = items.get(tag);
      return item && withOwn(item, pieces.get(tag));
    },
    size: () => items.size,
    at: () => (at === undefined ? undefined : new Date(at)),
    onChange: changes.add,
    cursor: () => cursor,
    answeredReceipts: () => [...answered],
    recorded,
    answered(ids) {
      for (const id of ids) if (own.has(id)) answered.add(id);
    },
    async apply(delta, counted) {
      await keepDelta(shelf, delta, counted);
      const gone = delta.changesOnly ? [] : [...items.keys()];
      if (!delta.changesOnly) items.clear();
      for (const item of delta.items) items.set(item.tag, item);
      const settled = counted.flatMap((id) => (own.has(id) ? tagsOf(own.get(id)!) : []));
      for (const id of counted) {
        own.delete(id);
        answered.delete(id);
      }
      recount();
      cursor = delta.cursor;
      at = delta.at;
      const changed = new Set([...gone, ...settled, ...delta.items.map(({ tag }) => tag)]);
      changes.tell([...changed]);
    },
  };
}

export const tagsOf = ({ lines }: ReceiptFact): string[] => [
  ...new Set(lines.map(({ tag }) => tag).filter((tag) => tag !== "")),
];

/** The list, its cursor and what it counts go in together, so that a crash leaves no half of it. */
const keepDelta = (
  shelf: Shelf,
  delta: CatalogueDelta,
  counted: readonly string[],
): Promise<void> =>
  inOneStep(shelf, ["goods", "notes", "past"], "relaxed", async (step) => {
    const goods = step.objectStore("goods");
    if (!delta.changesOnly) await goods.clear();
    // All at once: 50,000 answers one after the other would take a minute.
    await Promise.all(delta.items.map((item) => goods.put(item)));
    const notes = step.objectStore("notes");
    await Promise.all([notes.put(delta.cursor, "cursor"), notes.put(delta.at, "at")]);
    const past = step.objectStore("past");
    for (const id of counted) {
      const row = await past.get(id);
      if (!row) continue;
      delete row.waits;
      await past.put(row);
    }
  });
