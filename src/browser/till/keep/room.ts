import { inOneStep, type Shelf } from "./shelf.ts";

/** Less than this would end in the middle of a day of receipts. */
const leastBytes = 5_000_000;

type Storage = Partial<Pick<StorageManager, "persist" | "persisted" | "estimate">>;

const storageOf = (): Storage | undefined => globalThis.navigator?.storage;

/**
 * Writes a note and asks how much room is left. Undefined when sales can be stored, else the words
 * that say why none may begin.
 */
export async function roomRefusal(
  shelf: Shelf,
  storage: Storage | undefined = storageOf(),
): Promise<string | undefined> {
  try {
    await inOneStep(shelf, ["notes"], "strict", async (step) => {
      await step.objectStore("notes").put(Date.now(), "probe");
    });
  } catch {
    return notStored;
  }
  const { quota, usage } = (await storage?.estimate?.().catch(() => undefined)) ?? {};
  if (quota === undefined || usage === undefined || quota - usage >= leastBytes) return undefined;
  return "This device is nearly full, so no sale can be started. Nothing is lost. Free some space on it, or use another till.";
}

export const notStored =
  "This device does not store anything, so no sale can be started. What was recorded before is kept. Close private windows, free some space, load the page again, or use another till.";

/**
 * Asks the browser to keep the till's data until somebody deletes it. False when it may clear them
 * by itself to make room; undefined when it does not say.
 */
export async function askToKeep(
  storage: Storage | undefined = storageOf(),
): Promise<boolean | undefined> {
  try {
    return (await storage?.persisted?.()) || (await storage?.persist?.());
  } catch {
    return undefined;
  }
}
