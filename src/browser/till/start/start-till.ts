import { openGuard } from "../carry/guard.ts";
import { askServer } from "../carry/server.ts";
import { installShell } from "../carry/shell-worker.ts";
import { notStored } from "../keep/room.ts";
import { forgetShelf } from "../keep/shelf.ts";
import { part } from "../sell/dom.ts";
import { type Beginning, becomeTill } from "./become-till.ts";
import { startCarrying } from "./carry.ts";
import { type Kept, openKept } from "./open-parts.ts";
import { showScreen, showStopped } from "./screens.ts";
import { openSeat } from "./seat.ts";

const shelfName = "thrumbook-till";

/** Opens the till of this device. It becomes another one only once nothing waits on it. */
export async function startTill(beginning: Beginning): Promise<void> {
  await oneTabOnly();
  let kept = await openedOrStopped(shelfName);
  if (!kept) return;
  if (beginning === "another") {
    const allDone = kept.outbox.unsent() === 0 && (await kept.baskets.allDone());
    if (!allDone) return showStopped(stillBusy);
    kept.shelf.close();
    await forgetShelf(shelfName);
    kept = await openKept(shelfName, () => location.reload());
  }
  const { outbox, scene, baskets } = kept;
  const status = () => ({
    unsent: outbox.unsent(),
    lastNumber: kept.lastNumber(),
    clock: new Date().toISOString(),
  });
  const ask = askServer(status, fetch, kept.state.clock);
  let isLocked = () => true;
  const shell = await installShell(
    async () => isLocked() && outbox.unsent() === 0 && (await baskets.allDone()),
  );
  if (!scene.known() || beginning === "again") await becomeTill(kept, ask, beginning);
  const seat = openSeat(kept, startCarrying(kept, ask), shell.look);
  isLocked = seat.locked;
  seat.ask();
}

/** Waits until this tab is the only one that is the till. */
export async function oneTabOnly(): Promise<void> {
  const guard = openGuard();
  const lost = () => location.reload();
  if (await guard.enter(lost)) return;
  await new Promise<void>((entered) => {
    part("elsewhere-take").addEventListener("click", () => {
      void guard.takeOver(lost).then((inside) => {
        if (inside) entered();
      });
    });
    showScreen("elsewhere");
  });
  showScreen("starting");
}

export async function openedOrStopped(name: string): Promise<Kept | undefined> {
  try {
    return await openKept(name, () => location.reload());
  } catch {
    showStopped(notStored);
    return undefined;
  }
}

const stillBusy =
  "This device still keeps receipts or baskets of its till. Go back to the till, finish them, and wait until all is sent.";
