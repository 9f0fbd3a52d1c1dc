import { type DBSchema, deleteDB, type IDBPDatabase, openDB, type StoreNames } from "idb";
import type { CatalogueItem, TillSceneShown } from "../../../contract/till-device.ts";
import type { OutboxEntry, ReceiptFact } from "../../../contract/till-fact.ts";
import type { HeldBasket } from "../parts.ts";
import type { Basket } from "../sell/basket.ts";

/** What the till notes about itself, each under its own name. */
export interface Notes {
  scene: TillSceneShown;
  /** Where the list of goods stands, and when the server last spoke of it. */
  cursor: string;
  at: string;
  lastNumber: number;
  basket: Basket;
  pinTries: { wrong: number; waitUntil: number };
  probe: number;
  /** The last try to become a till, by its code. */
  enrolment: { code: string; attempt: string };
}

export interface PastRow {
  id: string;
  number: number;
  reversesId: string;
  tags: string[];
  fact: ReceiptFact;
  /** There until a list from the server counts this receipt; the index finds only rows with it. */
  waits?: 1;
}

interface ShelfSchema extends DBSchema {
  notes: { key: string; value: unknown };
  goods: { key: string; value: CatalogueItem };
  outbox: { key: number; value: OutboxEntry; indexes: { id: string } };
  baskets: { key: string; value: HeldBasket };
  past: {
    key: string;
    value: PastRow;
    indexes: { number: number; reversesId: string; tags: string; waits: number };
  };
}

export type Shelf = IDBPDatabase<ShelfSchema>;
type StoreName = StoreNames<ShelfSchema>;

/** The device stores nothing more: full, private, or taken away by the browser. */
export class ShelfRefused extends Error {
  override name = "ShelfRefused";
}

const version = 1;

/** Opens the till's own database, made on first use. `lost` is told when the browser takes it away. */
export function openShelf(name: string, lost: () => void = () => {}): Promise<Shelf> {
  return openDB<ShelfSchema>(name, version, {
    upgrade(shelf) {
      shelf.createObjectStore("notes");
      shelf.createObjectStore("goods", { keyPath: "tag" });
      const outbox = shelf.createObjectStore("outbox", { autoIncrement: true });
      // Unique, so that one receipt can never be on its way twice.
      outbox.createIndex("id", "body.id", { unique: true });
      shelf.createObjectStore("baskets", { keyPath: "id" });
      const past = shelf.createObjectStore("past", { keyPath: "id" });
      // Unique, so that even a fault of ours could not give one number to two receipts.
      past.createIndex("number", "number", { unique: true });
      past.createIndex("reversesId", "reversesId");
      past.createIndex("tags", "tags", { multiEntry: true });
      past.createIndex("waits", "waits");
    },
    // A newer page in another tab must not wait for this one for ever.
    blocking(_current, _wanted, event) {
      (event.target as IDBDatabase).close();
      lost();
    },
    terminated: lost,
  });
}

export const forgetShelf = (name: string): Promise<void> => deleteDB(name);

const stepOf = <Names extends [StoreName, ...StoreName[]]>(
  shelf: Shelf,
  names: Names,
  durability: IDBTransactionDurability,
) => shelf.transaction(names, "readwrite", { durability });

export type Step<Names extends [StoreName, ...StoreName[]]> = ReturnType<typeof stepOf<Names>>;

/**
 * All of the work or none of it. Resolves once the browser says that it is complete, with "strict"
 * only when it is on the disk; whatever stands against it comes out as `ShelfRefused`.
 */
export async function inOneStep<Names extends [StoreName, ...StoreName[]], T>(
  shelf: Shelf,
  names: Names,
  durability: "strict" | "relaxed",
  work: (step: Step<Names>) => Promise<T>,
): Promise<T> {
  let step: Step<Names> | undefined;
  try {
    step = stepOf(shelf, names, durability);
    const [result] = await Promise.all([work(step), step.done]);
    return result;
  } catch (error) {
    await calledOff(step);
    throw new ShelfRefused(String(error), { cause: error });
  }
}

/** Nothing of a step that failed may stay; one that failed by itself is called off already. */
async function calledOff(step: { abort(): void; done: Promise<void> } | undefined): Promise<void> {
  try {
    step?.abort();
  } catch (error) {
    if ((error as Error).name !== "InvalidStateError") throw error;
  }
  await step?.done.catch(() => undefined);
}

export async function readNote<Name extends keyof Notes>(
  shelf: Shelf,
  name: Name,
): Promise<Notes[Name] | undefined> {
  return (await shelf.get("notes", name)) as Notes[Name] | undefined;
}
