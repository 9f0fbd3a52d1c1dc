import { openState } from "../carry/state.ts";
import { openBaskets } from "../keep/baskets.ts";
import { openGoods } from "../keep/goods.ts";
import { openOutbox } from "../keep/outbox.ts";
import { openPast } from "../keep/past.ts";
import { openScene } from "../keep/scene.ts";
import { openShelf } from "../keep/shelf.ts";

/** Everything that is kept on this device, opened once and joined where one tells the other. */
export async function openKept(shelfName: string, lost: () => void) {
  const shelf = await openShelf(shelfName, lost);
  const scene = await openScene(shelf);
  const goods = await openGoods(shelf, () => (scene.known() ? scene.now().till.number : 0));
  const outbox = await openOutbox(shelf, () => scene.now().till);
  const past = openPast(shelf);
  const kept = openBaskets(shelf);
  const state = openState(outbox.unsent());
  outbox.onChange(() => state.change({ unsent: outbox.unsent() }));
  outbox.onRecord((receipts) => {
    goods.recorded(receipts);
    // What is left over is tried again after the next receipt.
    void past.trim().catch(() => undefined);
  });
  const baskets = {
    ...kept,
    // A basket that cannot be kept is sold all the same; whether a receipt can be is told at once.
    keep: (basket: Parameters<typeof kept.keep>[0]) =>
      kept.keep(basket).catch(() => outbox.lookForRoom()),
  };
  /** A till that was set up anew knows its last number from the server until it records again. */
  const lastNumber = () =>
    Math.max(outbox.lastNumber(), scene.known() ? scene.now().lastNumber : 0);
  return { shelfName, shelf, scene, goods, outbox, past, baskets, state, lastNumber };
}

export type Kept = Awaited<ReturnType<typeof openKept>>;
