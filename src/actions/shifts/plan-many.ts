import { v7 } from "uuid";
import type { ShiftPreview, ShiftRow } from "../../contract/shift.ts";
import type { Database, Transaction } from "../../database/client.ts";
import { type Deed, perform } from "../../database/perform.ts";
import type { SaleRead } from "../../database/sales.ts";
import { ok, type Result, refuseField } from "../../rules/problem.ts";
import { type ReadRow, readShiftList } from "./read-shift-list.ts";
import {
  judgeShift,
  lockMembers,
  type PlannedShift,
  saleForShifts,
  shiftScene,
} from "./shift-scene.ts";

/** Reads pasted rows and says of each what would become of it, without planning anything. */
export async function previewShifts(
  db: Database,
  sale: SaleRead,
  text: string,
): Promise<Result<ShiftPreview>> {
  const read = await readFor(db, text);
  if (!read.ok) return read;
  const { rows, planned } = await judgeAll(db, sale, read.value);
  return ok({ rows, good: planned.length, bad: rows.length - planned.length });
}

export interface PlannedMany {
  planned: number;
  skipped: number;
}

/** Plans the good rows of a pasted list, all of them or none. */
export const planShifts = (
  deed: Deed,
  given: { saleId: string; text: string },
): Promise<Result<PlannedMany>> =>
  perform(deed, "plan-shifts", given, async (tx) => {
    const sale = await saleForShifts(tx, given.saleId);
    if (!sale.ok) return sale;
    const read = await readFor(tx, given.text);
    if (!read.ok) return read;
    await lockMembers(tx, numbersOf(read.value));
    const { rows, planned } = await judgeAll(tx, sale.value, read.value);
    if (planned.length === 0)
      return refuseField("text", "None of these rows can be planned. Look at them again.");
    const common = { saleId: given.saleId, byId: deed.actor.id };
    await tx.shift.createMany({ data: planned.map((row) => ({ id: v7(), ...common, ...row })) });
    const value = { planned: planned.length, skipped: rows.length - planned.length };
    return ok({ value, subjectId: given.saleId, detail: value });
  });

async function readFor(db: Database | Transaction, text: string): Promise<Result<ReadRow[]>> {
  const { locale } = await db.guild.findFirstOrThrow();
  return readShiftList(text, locale);
}

const numbersOf = (rows: readonly ReadRow[]): number[] => [
  ...new Set(rows.flatMap(({ input }) => input?.member ?? [])),
];

/** Each good row counts as taken for those below it, so a row that came twice is planned once. */
async function judgeAll(db: Database | Transaction, sale: SaleRead, read: readonly ReadRow[]) {
  const scene = await shiftScene(db, sale, numbersOf(read));
  const rows: ShiftRow[] = [];
  const planned: PlannedShift[] = [];
  for (const { row, input } of read) {
    const judged = input && judgeShift(scene, input);
    if (judged?.ok) {
      planned.push(judged.value);
      scene.taken.push({ id: null, ...judged.value });
    }
    const why = judged && !judged.ok ? [judged.problem.detail] : [];
    rows.push({ ...row, problems: [...row.problems, ...why] });
  }
  return { rows, planned };
}
