import type { ReceiptFact } from "../contract/till-fact.ts";
import type { FactScene } from "../database/fact-scene.ts";
import type { NoteToWrite } from "../database/receipt-writing.ts";
import { clockAheadAt, isClockOff } from "../rules/clock.ts";
import { figuresAt } from "./fact-figures.ts";

/**
 * What a wrong clock did to a till's fact. The till's own moment stays on it, as the buyer's paper
 * says it; the treasurer is told once for each opening of a drawer, and for each sale where the right
 * moment would have come to other figures.
 */
export function clockNotes(fact: ReceiptFact, scene: FactScene, said: number): NoteToWrite[] {
  const { clock } = scene;
  const openedAt = clock.openedAt ?? clock.now;
  const ahead = clockAheadAt(fact.madeAt, { said, openedAt, arrivedAt: clock.now });
  if (!isClockOff(ahead)) return [];
  const notes: NoteToWrite[] = [];
  const sent = fact.madeAt;
  const right = new Date(Date.parse(sent) - ahead).toISOString();
  if (!clock.told) notes.push({ kind: "clock-off", detail: { sent, right, ahead } });
  if (fact.kind === "sale") {
    const [byTill, byUs] = [figuresAt(fact, scene, sent), figuresAt(fact, scene, right)];
    if (byTill.total !== byUs.total)
      notes.push({ kind: "clock-figures", detail: { sent, right, byTill, byUs } });
  }
  return notes;
}
