import { type DBSchema, type IDBPDatabase, openDB } from "idb";
import type { DraftFields, DraftForm } from "../../contract/draft.ts";

/** One form as it was typed on this device. */
export interface Typed {
  /** The id of its draft, chosen here, so that it can be sent again without becoming two. */
  id: string;
  /** The member who typed it: nobody else on this device is shown it. */
  owner: string;
  /** The form and where it goes: what was typed for another sale or member is offered there. */
  place: string;
  form: DraftForm;
  saleId: string;
  fields: DraftFields;
  typedAt: string;
  /** The version that the server gave it; 0 when the server has never had it. */
  version: number;
  /** Whether the server has it as it stands here. */
  sent: boolean;
  /** Its member started empty instead: it is still sent, and then stands under Drafts alone. */
  aside?: boolean;
}

interface Schema extends DBSchema {
  typed: { key: string; value: Typed; indexes: { owner: string } };
}

/** Where this device keeps what is typed; a device that keeps nothing answers as if it were empty. */
export interface Shelf {
  put(typed: Typed): Promise<boolean>;
  get(id: string): Promise<Typed | undefined>;
  of(owner: string): Promise<Typed[]>;
  drop(id: string): Promise<void>;
  dropAll(owner: string): Promise<void>;
}

export const shelfName = "thrumbook-drafts";

const open = (): Promise<IDBPDatabase<Schema>> =>
  openDB<Schema>(shelfName, 1, {
    upgrade(base) {
      base.createObjectStore("typed", { keyPath: "id" }).createIndex("owner", "owner");
    },
  });

/** A private window, a full disk and a browser that forbids it all end the same: nothing is kept. */
export function openShelf(opening: () => Promise<IDBPDatabase<Schema>> = open): Shelf {
  const opened = opening().catch(() => undefined);
  const quietly = async <T>(work: (base: IDBPDatabase<Schema>) => Promise<T>) => {
    const base = await opened;
    return base && work(base).catch(() => undefined);
  };
  return {
    put: async (typed) => (await quietly((base) => base.put("typed", typed))) !== undefined,
    get: (id) => quietly((base) => base.get("typed", id)),
    of: async (owner) =>
      (await quietly((base) => base.getAllFromIndex("typed", "owner", owner))) ?? [],
    drop: async (id) => {
      await quietly((base) => base.delete("typed", id));
    },
    dropAll: async (owner) => {
      await quietly(async (base) => {
        const { store, done } = base.transaction("typed", "readwrite");
        for (const id of await store.index("owner").getAllKeys(owner)) await store.delete(id);
        await done;
      });
    },
  };
}
