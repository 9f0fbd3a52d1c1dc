import type { SheetInput } from "../contract/warp-sheet.ts";
import type { Transaction } from "../database/client.ts";
import { type Deed, perform } from "../database/perform.ts";
import { ok, problem, type Result, refuse } from "../rules/problem.ts";
import type { WarpSheet } from "../rules/weave/sheet.ts";
import { sheetErrors } from "../rules/weave/sheet-errors.ts";
import { changedMeanwhile } from "./sale-lock.ts";

type Kept = { id: string; version: number };

/** Keeps a new plan of a warp. No audit row says more than that: a sheet is its member's alone. */
export const addSheet = (deed: Deed, given: SheetInput, now: Date): Promise<Result<Kept>> =>
  perform(deed, "add-warp-sheet", given, async (tx) => {
    const sound = soundSheet(given.sheet);
    if (!sound.ok) return sound;
    const id = await write(tx, deed, { ...given, now });
    return ok({ value: { id, version: 1 }, subjectId: id });
  });

export interface EditSheet extends SheetInput {
  id: string;
  /** The version that was on the screen. */
  version: number;
}

export const editSheet = (deed: Deed, given: EditSheet, now: Date): Promise<Result<Kept>> =>
  perform(deed, "edit-warp-sheet", given, async (tx) => {
    const { id, version, name, sheet } = given;
    const sound = soundSheet(sheet);
    if (!sound.ok) return sound;
    const own = { id, memberId: deed.actor.id };
    if (!(await tx.warpSheet.findFirst({ where: own, select: { id: true } }))) return noSheet();
    const changed = await tx.warpSheet.updateMany({
      where: { ...own, version },
      data: { name, sheet: sheet as object, version: { increment: 1 }, changedAt: now },
    });
    if (changed.count === 0) return changedMeanwhile();
    return ok({ value: { id, version: version + 1 }, subjectId: id });
  });

/** The same plan again under another name, to be changed for the next warp. */
export const copySheet = (deed: Deed, id: string, now: Date): Promise<Result<Kept>> =>
  perform(deed, "copy-warp-sheet", { id }, async (tx) => {
    const kept = await tx.warpSheet.findFirst({ where: { id, memberId: deed.actor.id } });
    if (!kept) return noSheet();
    const name = `Copy of ${kept.name}`.slice(0, 60);
    const sheet = kept.sheet as unknown as WarpSheet;
    const copy = await write(tx, deed, { name, sheet, now });
    return ok({ value: { id: copy, version: 1 }, subjectId: copy });
  });

/** Takes a sheet off the list. It is kept, because what was entered from it points back at it. */
export const putSheetAway = (deed: Deed, id: string, now: Date): Promise<Result<{ id: string }>> =>
  setAside(deed, "put-warp-sheet-away", id, now);

export const takeSheetOut = (deed: Deed, id: string): Promise<Result<{ id: string }>> =>
  setAside(deed, "take-warp-sheet-out", id, null);

const setAside = (deed: Deed, name: string, id: string, putAwayAt: Date | null) =>
  perform(deed, name, { id }, async (tx) => {
    const where = { id, memberId: deed.actor.id };
    const changed = await tx.warpSheet.updateMany({ where, data: { putAwayAt } });
    return changed.count === 0 ? noSheet() : ok({ value: { id }, subjectId: id });
  });

async function write(
  tx: Transaction,
  { actor }: Deed,
  { name, sheet, now }: SheetInput & { now: Date },
): Promise<string> {
  const moment = { createdAt: now, changedAt: now };
  const data = { memberId: actor.id, name, sheet: sheet as object, ...moment };
  return (await tx.warpSheet.create({ data, select: { id: true } })).id;
}

function soundSheet(sheet: WarpSheet): Result<true> {
  const errors = sheetErrors(sheet).map(({ field, message }) => ({
    field: `sheet.${field}`,
    message,
  }));
  if (errors.length === 0) return ok(true);
  const detail = "Nothing was recorded yet. What you typed is still here.";
  return { ok: false, problem: problem("invalid-input", detail, errors) };
}

/** Another member's sheet and an unknown one answer alike. */
export const noSheet = (): Result<never> =>
  refuse("not-found", "There is no such sheet among yours. Nothing was changed.");
