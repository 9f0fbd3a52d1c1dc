import type { TillSceneShown } from "../../../contract/till-device.ts";
import type { OutboxEntry, ReceiptFact } from "../../../contract/till-fact.ts";
import type { Outbox } from "../parts.ts";
import type { Unnumbered } from "../sell/sale-fact.ts";
import { tagsOf } from "./goods.ts";
import { listeners } from "./heard.ts";
import { askToKeep, notStored, roomRefusal } from "./room.ts";
import { assertSendable } from "./sendable.ts";
import { inOneStep, type Notes, type PastRow, type Shelf, type Step } from "./shelf.ts";
import { unsentFile } from "./unsent-file.ts";

export interface KeptOutbox extends Outbox {
  /** The entries that have waited longest, in the order in which they were made. */
  oldest(most: number): Promise<OutboxEntry[]>;
  /** Takes out what the server has, by its ids alone; ids that are not here do not matter. */
  answered(ids: readonly string[]): Promise<void>;
  /** The number of this till's last receipt. */
  lastNumber(): number;
  /** Tries once more whether the device stores anything. */
  lookForRoom(): Promise<void>;
  /** After each change of what is unsent or of whether sales can be stored. */
  onChange(heard: () => void): () => void;
  /** What was recorded, once it is stored. */
  onRecord(heard: (receipts: ReceiptFact[]) => void): () => void;
}

export async function openOutbox(
  shelf: Shelf,
  till: () => TillSceneShown["till"],
): Promise<KeptOutbox> {
  let unsent = await shelf.count("outbox");
  let lastNumber = ((await shelf.get("notes", "lastNumber")) as number | undefined) ?? 0;
  let refusal = await roomRefusal(shelf);
  const lasting = await askToKeep();
  const changes = listeners<void>();
  const records = listeners<ReceiptFact[]>();

  async function keep<T>(work: (step: RecordStep) => Promise<T>): Promise<T> {
    try {
      const [result, count, last] = await inOneStep(shelf, recordStores, "strict", async (step) => {
        const done = await work(step);
        const count = await step.objectStore("outbox").count();
        return [done, count, await step.objectStore("notes").get("lastNumber")];
      });
      unsent = count;
      lastNumber = (last as number | undefined) ?? 0;
      refusal = undefined;
      return result;
    } catch (error) {
      refusal = notStored;
      throw error;
    } finally {
      changes.tell();
    }
  }

  return {
    async record(receipts) {
      assertSendable(receipts);
      const facts = await keep((step) => storeReceipts(step, receipts));
      records.tell(facts);
      return facts;
    },
    async recordMove(move) {
      await keep((step) => storeEntry(step, { what: "cash-move", body: move }));
      records.tell([]);
    },
    async recordMails(mails) {
      await keep(async (step) => {
        for (const body of mails) await storeEntry(step, { what: "receipt-mail", body });
      });
      records.tell([]);
    },
    unsent: () => unsent,
    lastNumber: () => lastNumber,
    refusal: () => refusal,
    lasting: () => lasting,
    oldest: (most) => shelf.getAll("outbox", null, most),
    async answered(ids) {
      unsent = await inOneStep(shelf, ["outbox"], "relaxed", async (step) => {
        const outbox = step.objectStore("outbox");
        for (const id of ids) {
          const key = await outbox.index("id").getKey(id);
          if (key !== undefined) await outbox.delete(key);
        }
        return outbox.count();
      });
      changes.tell();
    },
    async lookForRoom() {
      refusal = await roomRefusal(shelf);
      changes.tell();
    },
    toFile: async () => unsentFile(till(), await shelf.getAll("outbox"), new Date()),
    onChange: changes.add,
    onRecord: records.add,
  };
}

const recordStores: ["notes", "outbox", "past"] = ["notes", "outbox", "past"];
type RecordStep = Step<typeof recordStores>;

/**
 * The number is taken in the same step as the receipt is stored, so neither two tabs nor two
 * presses get the same one, and a step that fails leaves no gap. A receipt that is stored already
 * stays as it is, with its number.
 */
async function storeReceipts(
  step: RecordStep,
  receipts: readonly Unnumbered[],
): Promise<ReceiptFact[]> {
  const notes = step.objectStore("notes");
  const past = step.objectStore("past");
  let last = (await notes.get("lastNumber")) as Notes["lastNumber"] | undefined;
  if (last === undefined) throw new Error("This till does not know its last number yet");
  const facts: ReceiptFact[] = [];
  for (const receipt of receipts) {
    const there = await past.get(receipt.id);
    const fact = there?.fact ?? { ...receipt, number: ++last };
    facts.push(fact);
    if (there) continue;
    await step.objectStore("outbox").add({ what: "receipt", body: fact });
    await past.add(pastRow(fact));
  }
  await notes.put(last, "lastNumber");
  const basket = (await notes.get("basket")) as Notes["basket"] | undefined;
  if (basket && facts.some(({ id }) => id === basket.id)) await notes.delete("basket");
  return facts;
}

const pastRow = (fact: ReceiptFact): PastRow => ({
  id: fact.id,
  number: fact.number,
  reversesId: fact.reversesId ?? "",
  tags: tagsOf(fact),
  fact,
  waits: 1,
});

async function storeEntry(step: RecordStep, entry: OutboxEntry): Promise<void> {
  const outbox = step.objectStore("outbox");
  const there = await outbox.index("id").getKey(entry.body.id);
  if (there === undefined) await outbox.add(entry);
}
