import { v7 } from "uuid";
import type { ElsewhereChange, ElsewhereInput } from "../../contract/elsewhere.ts";
import type { Transaction } from "../../database/client.ts";
import { type Deed, perform } from "../../database/perform.ts";
import { ok, type Result, refuse } from "../../rules/problem.ts";
import { changedMeanwhile } from "../sale-lock.ts";
import { judgeElsewhere } from "./elsewhere-scene.ts";

type Kept = Promise<Result<{ id: string; version: number }>>;

/**
 * Notes what the member sold elsewhere. It touches no book of the guild, and the audit says only
 * that a note was made, since what it says is nobody else's business.
 */
export const noteElsewhere = (deed: Deed, input: ElsewhereInput): Kept =>
  perform(deed, "note-sale-elsewhere", { input }, async (tx) => {
    const judged = await judgeElsewhere(tx, deed.actor.id, input);
    if (!judged.ok) return judged;
    const id = v7();
    await tx.elsewhereSale.create({ data: { id, memberId: deed.actor.id, ...judged.value } });
    return ok({ value: { id, version: 1 }, subjectId: id });
  });

/** Puts a note right, from the version that was on the screen. */
export const changeElsewhere = (deed: Deed, id: string, change: ElsewhereChange): Kept =>
  perform(deed, "change-sale-elsewhere", { id, change }, async (tx) => {
    const own = await ownNote(tx, deed, id);
    if (!own.ok) return own;
    const { version, ...input } = change;
    const judged = await judgeElsewhere(tx, deed.actor.id, input, own.value);
    if (!judged.ok) return judged;
    const changed = await tx.elsewhereSale.updateMany({
      where: { id, memberId: deed.actor.id, version, takenBackAt: null },
      data: { ...judged.value, version: { increment: 1 } },
    });
    if (changed.count === 0) return changedMeanwhile();
    return ok({ value: { id, version: version + 1 }, subjectId: id });
  });

/** Takes a note back. It stays to be seen, and counts for nothing. */
export const takeBackElsewhere = (deed: Deed, given: { id: string; version: number }): Kept =>
  perform(deed, "take-back-sale-elsewhere", given, async (tx) => {
    const { id, version } = given;
    const own = await ownNote(tx, deed, id);
    if (!own.ok) return own;
    const changed = await tx.elsewhereSale.updateMany({
      where: { id, memberId: deed.actor.id, version, takenBackAt: null },
      data: { takenBackAt: new Date(), version: { increment: 1 } },
    });
    if (changed.count === 0) return changedMeanwhile();
    return ok({ value: { id, version: version + 1 }, subjectId: id });
  });

async function ownNote(tx: Transaction, { actor }: Deed, id: string) {
  const note = await tx.elsewhereSale.findFirst({ where: { id, memberId: actor.id } });
  if (!note) return refuse("not-found", "There is no such sale among yours. Nothing was changed.");
  if (note.takenBackAt)
    return refuse(
      "already-done",
      "This sale was taken back. Note it again if it counts after all.",
    );
  return ok({ id, kindId: note.kindId });
}
