import { listeners } from "../keep/heard.ts";
import type { Line, Seat, TillParts } from "../parts.ts";
import { startSelling } from "../sell/start.ts";
import type { Kept } from "./open-parts.ts";
import { showScreen } from "./screens.ts";
import { wireSeat } from "./seat-form.ts";

/** Who sits at the till, and which screen follows from that. */
export function openSeat(kept: Kept, line: Line | undefined, left: () => void) {
  const practice = line === undefined;
  const { scene, state } = kept;
  const sitting = listeners<void>();
  let seat: Seat | undefined;
  let last: Seat | undefined;
  let selling: Promise<void> | undefined;

  const ask = wireSeat({ ...kept, scene: scene.now, onScene: scene.onChange, taken: sit });
  const parts: TillParts = {
    ...kept,
    practice,
    scene: scene.now,
    onScene: scene.onChange,
    get seat() {
      if (!last) throw new Error("Nobody has sat down at this till yet");
      return last;
    },
    locked: () => seat === undefined || scene.now().session === null,
    onSeat: sitting.add,
    get state() {
      return state.now();
    },
    onState: state.onChange,
    ...(line ? { line } : {}),
  };

  function sit({ id, name, number }: Seat["cashier"]): void {
    seat = last = { cashier: { id, name, number }, leave };
    void showWork();
  }

  function leave(): void {
    seat = undefined;
    ask();
    left();
  }

  async function showWork(): Promise<void> {
    if (!seat) return;
    if (scene.now().session === null) return showScreen("closed");
    showScreen("selling");
    selling ??= startSelling(parts);
    await selling;
    sitting.tell();
  }

  // The chair opens or closes the till elsewhere, and this page follows.
  let wasOpen = scene.known() && scene.now().session !== null;
  scene.onChange(() => {
    const isOpen = scene.now().session !== null;
    if (isOpen !== wasOpen) void showWork();
    wasOpen = isOpen;
  });
  keepKeysFromTheScreen(parts.locked);
  return { ask, sit, locked: parts.locked };
}

/** A PIN that is typed, or a tag scanned, while the till is locked must not reach the basket. */
function keepKeysFromTheScreen(locked: () => boolean): void {
  addEventListener(
    "keydown",
    (event) => {
      if (locked()) event.stopPropagation();
    },
    true,
  );
}
