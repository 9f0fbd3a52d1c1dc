import { forgetShelf } from "../keep/shelf.ts";
import { practiceGoods, practiceScene } from "../practice.ts";
import { openSeat } from "./seat.ts";
import { oneTabOnly, openedOrStopped } from "./start-till.ts";

const shelfName = "thrumbook-practice";

/**
 * A till with made-up goods, in a store of its own that each start empties. It never asks the
 * server for anything, so nothing that is done here can reach the books.
 */
export async function startPractice(): Promise<void> {
  await oneTabOnly();
  await forgetShelf(shelfName);
  const kept = await openedOrStopped(shelfName);
  if (!kept) return;
  const scene = practiceScene(new Date());
  await kept.scene.keep(scene);
  const at = new Date().toISOString();
  await kept.goods.apply({ cursor: "0", changesOnly: false, items: practiceGoods(), at }, []);
  // Nothing waits to be sent in practice, or the till would ask for a file of it.
  kept.outbox.onRecord((receipts) => {
    void kept.outbox.answered(receipts.map(({ id }) => id));
  });
  const seat = openSeat(kept, undefined, () => location.assign("/till/"));
  seat.sit(scene.cashiers[0]!);
}
