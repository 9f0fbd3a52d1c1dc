import type { ReceiptFact } from "../../../contract/till-fact.ts";
import type { Past } from "../parts.ts";
import { inOneStep, type PastRow, type Shelf } from "./shelf.ts";

/** More than a till makes in a weekend; older ones are on the server. */
const mostKept = 2_000;

export interface KeptPast extends Past {
  /** Forgets the oldest beyond the most; never one that the server has not, or may not count yet. */
  trim(most?: number): Promise<void>;
}

export function openPast(shelf: Shelf): KeptPast {
  return {
    newest: (most) => newest(shelf, most),
    find: async (id) => (await shelf.get("past", id))?.fact,
    numbered: async (number) => (await shelf.getFromIndex("past", "number", number))?.fact,
    withTag: async (tag) => inOrder(await shelf.getAllFromIndex("past", "tags", tag)).toReversed(),
    takenBack: async (id) => inOrder(await shelf.getAllFromIndex("past", "reversesId", id)),
    trim: (most = mostKept) => trim(shelf, most),
  };
}

const inOrder = (rows: PastRow[]): ReceiptFact[] =>
  rows.map(({ fact }) => fact).toSorted((a, b) => a.number - b.number);

async function newest(shelf: Shelf, most: number): Promise<ReceiptFact[]> {
  const facts: ReceiptFact[] = [];
  let place = await shelf.transaction("past").store.index("number").openCursor(null, "prev");
  while (place && facts.length < most) {
    facts.push(place.value.fact);
    place = await place.continue();
  }
  return facts;
}

const trim = (shelf: Shelf, most: number): Promise<void> =>
  inOneStep(shelf, ["past"], "relaxed", async (step) => {
    const past = step.objectStore("past");
    let over = (await past.count()) - most;
    let place = over > 0 ? await past.index("number").openCursor() : null;
    while (place && over > 0) {
      if (place.value.waits === undefined) await place.delete();
      over -= 1;
      place = await place.continue();
    }
  });
