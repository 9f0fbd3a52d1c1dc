import type { TillSceneShown } from "../../../contract/till-device.ts";
import { listeners } from "./heard.ts";
import { inOneStep, type Notes, readNote, type Shelf } from "./shelf.ts";

export interface KeptScene {
  /** Throws before the first one has come: the till is not shown until then. */
  now(): TillSceneShown;
  known(): boolean;
  keep(scene: TillSceneShown): Promise<void>;
  onChange(heard: () => void): () => void;
}

/** What the server last said of the sale and this till; it holds until it says something else. */
export async function openScene(shelf: Shelf): Promise<KeptScene> {
  let scene = await readNote(shelf, "scene");
  const changes = listeners<void>();
  return {
    now() {
      if (!scene) throw new Error("This device is not a till yet");
      return scene;
    },
    known: () => scene !== undefined,
    async keep(next) {
      if (scene && scene.till.id !== next.till.id)
        throw new Error(`This device keeps the receipts of till ${scene.till.number}`);
      await inOneStep(shelf, ["notes"], "strict", async (step) => {
        const notes = step.objectStore("notes");
        const last = (await notes.get("lastNumber")) as Notes["lastNumber"] | undefined;
        // The server knows less than the till while receipts wait, and more after a loss of data.
        await notes.put(Math.max(last ?? 0, next.lastNumber), "lastNumber");
        await notes.put(next, "scene");
      });
      scene = next;
      changes.tell();
    },
    onChange: changes.add,
  };
}
