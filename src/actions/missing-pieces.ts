import type { PiecesInput } from "../contract/desk.ts";
import type { Transaction } from "../database/client.ts";
import { type Deed, perform } from "../database/perform.ts";
import { moveOf } from "../rules/movement.ts";
import { ok, type Result, refuse, refuseField } from "../rules/problem.ts";
import { allows } from "../rules/sale-stage.ts";
import { readTag, type TagLength } from "../rules/tag-number.ts";
import { withUnknown } from "./check-in-items.ts";
import { cannotGoHome, type DeskTally, named, tallyOrRefuse } from "./desk-goods.ts";
import { type LockedItem, lockItems, shareSale } from "./lock-rows.ts";

export type PiecesOfSale = PiecesInput & { saleId: string };

/** Pieces that nobody finds once selling is over: neither sold nor handed back. */
export const declareLost = (deed: Deed, given: PiecesOfSale): Promise<Result<DeskTally>> =>
  moveSeveral(deed, "declare-lost", given, { move: "lost", place: "onFloor" });

/** Missing pieces that turned up: they stand on the floor again, from where they go home. */
export const declareFound = (deed: Deed, given: PiecesOfSale): Promise<Result<DeskTally>> =>
  moveSeveral(deed, "declare-found", given, { move: "found", place: "lost" });

/** Unsold pieces that their member leaves to the guild, after the sale. */
export const leaveWithGuild = (deed: Deed, given: PiecesOfSale): Promise<Result<DeskTally>> =>
  moveSeveral(deed, "leave-with-guild", given, { move: "donated", place: "onFloor" });

interface Way {
  move: "lost" | "found" | "donated";
  place: "onFloor" | "lost";
}

/**
 * Moves what was ticked. What another helper has moved meanwhile is named and left alone; a number
 * that is more than there is was looked at on an old page, so then nothing is recorded.
 */
const moveSeveral = (
  deed: Deed,
  name: string,
  given: PiecesOfSale,
  way: Way,
): Promise<Result<DeskTally>> =>
  perform(deed, name, given, async (tx) => {
    const sale = await shareSale(tx, given.saleId);
    if (!sale.ok) return sale;
    if (!allows(sale.value.stage, "account-for"))
      return refuse(
        "stage-closed",
        `Nothing was recorded. Pieces of ${sale.value.name} are accounted for at the stage Settling, when selling is over.`,
      );
    const wanted = await readPieces(tx, given);
    if (!wanted.ok) return wanted;
    const tags = [...wanted.value.keys()];
    const items = (await lockItems(tx, tags)).filter(({ saleId }) => saleId === given.saleId);
    const tally = tallyOf(items, wanted.value, way);
    if (!tally.ok) return tally;
    const { reason } = given;
    await tx.movement.createMany({
      data: tally.value.done.map(({ itemId, quantity }) => ({
        ...{ itemId, quantity, reason, byId: deed.actor.id },
        ...moveOf(way.move),
      })),
    });
    const value = tallyOrRefuse(withUnknown(tally.value, tags));
    if (!value.ok) return value;
    return ok({ value: value.value, subjectId: given.saleId, detail: { ...value.value, reason } });
  });

/** How many of which tag, and where it stands in what was sent. */
type Wanted = ReadonlyMap<string, { quantity: number | undefined; index: number }>;

async function readPieces(tx: Transaction, { pieces }: PiecesOfSale): Promise<Result<Wanted>> {
  const { tagLength } = await tx.guild.findFirstOrThrow();
  const wanted = new Map<string, { quantity: number | undefined; index: number }>();
  for (const [index, { tag: text, quantity }] of pieces.entries()) {
    const tag = readTag(text, [tagLength as TagLength], `pieces.${index}.tag`);
    if (!tag.ok) return tag;
    if (wanted.has(tag.value)) return refuseField(`pieces.${index}.tag`, "This tag came twice.");
    wanted.set(tag.value, { quantity, index });
  }
  return ok(wanted);
}

function tallyOf(items: LockedItem[], wanted: Wanted, { place }: Way): Result<DeskTally> {
  const tally: DeskTally = { done: [], refused: [] };
  for (const item of items) {
    const { id: itemId, tag } = item;
    const there = item[place];
    const { quantity = there, index } = wanted.get(tag)!;
    if (there === 0) tally.refused.push({ tag, ...whyNone(item, place) });
    else if (quantity > there)
      return refuseField(
        `pieces.${index}.quantity`,
        `${named(item)} has ${there} ${place === "lost" ? "missing" : "on the floor"}. Type a number from 1 to ${there}.`,
      );
    else tally.done.push({ itemId, tag, quantity });
  }
  return ok(tally);
}

function whyNone(item: LockedItem, place: Way["place"]): { code: string; detail: string } {
  const { problem } = place === "onFloor" ? cannotGoHome(item) : notMissing(item);
  return { code: problem.code, detail: problem.detail };
}

const notMissing = (item: LockedItem) =>
  refuse("already-done", `${named(item)} is not noted as missing. Nothing was changed.`);
