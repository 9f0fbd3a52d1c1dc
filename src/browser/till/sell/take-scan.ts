import { isDoubleRead, type LastRead } from "./double-read.ts";
import { outcomeOf } from "./outcome.ts";
import { sellAnyway } from "./sell-anyway.ts";
import { play } from "./sounds.ts";
import type { Till } from "./till.ts";

let last: LastRead | undefined;

/** Reads a tag, scanned or typed: adds it or says why not, with its own sound, at once. */
export function takeScan(till: Till, text: string): void {
  const now = performance.now();
  const again = isDoubleRead(last, text, now);
  last = { text, at: now };
  if (again) {
    play("tick", till.device.volume);
    return;
  }
  if (till.shown.storing) {
    play("here", till.device.volume);
    return;
  }
  const { parts, scene, words, newId } = till;
  const refusal = parts.outbox.refusal();
  if (refusal) {
    till.change({ signal: { kind: "trouble", words: refusal } });
    return;
  }
  const outcome = outcomeOf(till.shown.basket, text, {
    find: (tag) => parts.goods.find(tag),
    tagLength: scene.guild.tagLength,
    time: words.time,
    newId,
  });
  const { kind, basket } = outcome;
  const action = sellAnyway(till, outcome);
  // What is scanned while another part of the till is open belongs to the customer at the desk.
  till.change({ place: "desk", basket, signal: { kind, words: outcome.words, action } });
  play(kind, till.device.volume);
}
