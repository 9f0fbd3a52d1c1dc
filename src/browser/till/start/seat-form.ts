import type { TillCashier, TillSceneShown } from "../../../contract/till-device.ts";
import { inOneStep, readNote, type Shelf } from "../keep/shelf.ts";
import { part } from "../sell/dom.ts";
import { afterWrong, noTries, type PinTries, pinFits, secondsToWait } from "./pin.ts";
import { showScreen } from "./screens.ts";

export interface SeatParts {
  shelf: Shelf;
  scene(): TillSceneShown;
  onScene(heard: () => void): () => void;
  /** Somebody who may sell sat down. */
  taken(cashier: TillCashier): void;
}

/** Wires the form in which a cashier takes over; the returned function asks for one. */
export function wireSeat({ shelf, scene, onScene, taken }: SeatParts): () => void {
  const pin = part<HTMLInputElement>("seat-pin");
  const who = part<HTMLSelectElement>("seat-cashier");
  const draw = () => showCashiers(who, scene());
  onScene(draw);
  let busy = false;

  async function tryPin(): Promise<void> {
    const cashier = scene().cashiers.find(({ id }) => id === who.value);
    if (!cashier) return say("Choose who you are.");
    const tries = (await readNote(shelf, "pinTries")) ?? noTries;
    const seconds = secondsToWait(tries, Date.now());
    if (seconds > 0) return say(`Five PINs were wrong. Wait ${seconds} seconds, then try again.`);
    const typed = pin.value;
    pin.value = "";
    if (await pinFits(typed, cashier.pinHash)) {
      await keepTries(shelf, noTries);
      say("");
      return taken(cashier);
    }
    await keepTries(shelf, afterWrong(tries, Date.now()));
    say("This PIN does not fit. Type it again.");
    pin.focus();
  }

  part("seat-form").addEventListener("submit", (event) => {
    event.preventDefault();
    if (busy) return;
    busy = true;
    void tryPin().finally(() => {
      busy = false;
    });
  });
  return () => {
    draw();
    say("");
    part("seat-till").textContent = `Till ${scene().till.number}, ${scene().sale.name}`;
    showScreen("seat");
  };
}

const say = (words: string): void => {
  part("seat-error").textContent = words;
  part("seat-error").hidden = words === "";
};

/** A device that cannot note the tries still counts nothing as right. */
const keepTries = (shelf: Shelf, tries: PinTries): Promise<void> =>
  inOneStep(shelf, ["notes"], "relaxed", async (step) => {
    await step.objectStore("notes").put(tries, "pinTries");
  }).catch(() => undefined);

function showCashiers(who: HTMLSelectElement, { cashiers }: TillSceneShown): void {
  const chosen = who.value;
  const options = cashiers.map(({ id, name }) => new Option(name, id, false, id === chosen));
  who.replaceChildren(...options);
  part("seat-nobody").hidden = cashiers.length > 0;
}
