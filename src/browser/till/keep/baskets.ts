import type { Baskets, HeldBasket } from "../parts.ts";
import { type Basket, isUntouched } from "../sell/basket.ts";
import { inOneStep, type Notes, readNote, type Shelf, type Step } from "./shelf.ts";

export interface KeptBaskets extends Baskets {
  /** No customer is at this till and none was asked to wait. */
  allDone(): Promise<boolean>;
}

const stores: ["notes", "baskets", "past"] = ["notes", "baskets", "past"];

/** The basket on the counter and those that wait; they outlive a reload, a crash and a flat battery. */
export function openBaskets(shelf: Shelf): KeptBaskets {
  const step = <T>(work: (step: Step<typeof stores>) => Promise<T>): Promise<T> =>
    inOneStep(shelf, stores, "relaxed", work);
  const held = async () =>
    (await shelf.getAll("baskets")).toSorted((a, b) => a.heldAt.localeCompare(b.heldAt));

  return {
    current: () => readNote(shelf, "basket"),
    keep: (basket) => step((open) => putOnCounter(open, basket)),
    hold: (basket, name, total) =>
      step(async (open) => {
        const waiting: HeldBasket = {
          id: basket.id,
          name,
          heldAt: new Date().toISOString(),
          total,
          basket,
        };
        await open.objectStore("baskets").put(waiting);
        await open.objectStore("notes").delete("basket");
      }),
    held,
    resume: (id) =>
      step(async (open) => {
        const waiting = await open.objectStore("baskets").get(id);
        if (!waiting) return undefined;
        await open.objectStore("baskets").delete(id);
        await open.objectStore("notes").put(waiting.basket, "basket");
        return waiting.basket;
      }),
    allDone: async () =>
      (await readNote(shelf, "basket")) === undefined && (await shelf.count("baskets")) === 0,
  };
}

/** A late change must not bring back a basket that is a receipt by now: it would be sold twice. */
async function putOnCounter(step: Step<typeof stores>, basket: Basket): Promise<void> {
  const notes = step.objectStore("notes");
  if ((await step.objectStore("past").getKey(basket.id)) !== undefined) return;
  if (!isUntouched(basket)) await notes.put(basket satisfies Notes["basket"], "basket");
  else await notes.delete("basket");
}
