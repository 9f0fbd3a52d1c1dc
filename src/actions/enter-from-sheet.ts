import { type EnterFromSheetInput, type EnterRow, tagsOf } from "../contract/warp-sheet.ts";
import type { Transaction } from "../database/client.ts";
import { type Deed, perform } from "../database/perform.ts";
import { type Fraction, fraction, nearestWhole, sumOf, times } from "../rules/fraction.ts";
import type { ItemDetails } from "../rules/item.ts";
import { ok, type Problem, problem, type Result, refuseField } from "../rules/problem.ts";
import { runLabel } from "../rules/weave/run-label.ts";
import type { WarpSheet } from "../rules/weave/sheet.ts";
import type { RunOutcome } from "../rules/weave/sheet-outcome.ts";
import { workOutSheet } from "../rules/weave/work-out.ts";
import { changedMeanwhile } from "./sale-lock.ts";
import { noSheet } from "./warp-sheets.ts";
import { type Entered, writeItems } from "./write-items.ts";

export interface EnterFromSheet extends EnterFromSheetInput {
  sheetId: string;
}

/** One tag to be given, and the row of the request that asked for it. */
interface Wanted {
  at: number;
  row: EnterRow;
  run: RunOutcome;
}

/**
 * Enters the pieces of a warp sheet for a sale: each with its fibres, its size and its tag, and
 * with the hours and the yarn that the sheet says it took. All of it or nothing. The sheet must be
 * the one that was on the screen, so that no label says anything else than what was read there.
 */
export const enterFromSheet = (
  deed: Deed,
  given: EnterFromSheet,
  now: Date,
): Promise<Result<Entered[]>> =>
  perform(deed, "enter-from-sheet", given, (tx) => enter(tx, deed, given, now), {
    making_minutes: () =>
      problem("invalid-input", "These are more hours than one piece can take. Look at the sheet."),
  });

async function enter(tx: Transaction, { actor }: Deed, given: EnterFromSheet, now: Date) {
  const own = { id: given.sheetId, memberId: actor.id };
  const kept = await tx.warpSheet.findFirst({ where: own });
  if (!kept) return noSheet();
  if (kept.version !== given.version) return changedMeanwhile();
  const sheet = kept.sheet as unknown as WarpSheet;
  const { runs } = workOutSheet(sheet);
  const unknown = given.rows.findIndex(({ run }) => !runs[run]);
  if (unknown >= 0) return refuseField(`rows.${unknown}.run`, "Choose a piece of this sheet.");
  const wanted = given.rows.flatMap((row, at): Wanted[] =>
    Array.from({ length: tagsOf(row) }, () => ({ at, row, run: runs[row.run]! })),
  );
  const entry = {
    ...{ saleId: given.saleId, memberId: actor.id },
    items: wanted.map((one) => itemOf(sheet, one)),
    agreementVersion: given.agreementVersion,
  };
  const written = await writeItems(tx, actor, entry, now, (index) => `rows.${wanted[index]!.at}.`);
  if (!written.ok) return { ok: false as const, problem: toldOnce(written.problem) };
  await tx.itemMaking.createMany({
    data: wanted.map((one, index) => ({
      ...{ itemId: written.value[index]!.id, warpSheetId: kept.id },
      ...makingOf(one),
    })),
  });
  const tags = written.value.map(({ tag }) => tag);
  return ok({ value: written.value, subjectId: actor.id, detail: { tags, saleId: given.saleId } });
}

/** Pieces of one row are alike, so that what is wrong with one is wrong with all. */
const toldOnce = (told: Problem): Problem => ({
  ...told,
  errors: told.errors.filter(
    ({ field, message }, index) =>
      told.errors.findIndex((one) => one.field === field && one.message === message) === index,
  ),
});

function itemOf(sheet: WarpSheet, { row, run }: Wanted): ItemDetails {
  const { kind, description, technique, colours, size, price, markdown, count, tagging } = row;
  return {
    ...{ kind, description, technique, colours, size, price, markdown },
    fibres: [],
    label: runLabel(sheet, run),
    quantity: tagging === "alike" ? count : 1,
    piecesInSet: tagging === "set" ? count : 1,
    donated: false,
  };
}

/** What is priced is one piece, or a whole set: minutes and coins, each to the nearest whole one. */
function makingOf({ row, run: { making } }: Wanted) {
  const priced = fraction(row.tagging === "set" ? row.count : 1);
  const rounded = (one: Fraction) => nearestWhole(times(one, priced));
  const { setUpMinutes, weavingMinutes, finishingMinutes } = making;
  const minutes = Number(rounded(sumOf([setUpMinutes, weavingMinutes, finishingMinutes])));
  return {
    minutes: minutes > 0 ? minutes : null,
    materials: making.pricesKnown ? rounded(making.materials) : null,
  };
}
