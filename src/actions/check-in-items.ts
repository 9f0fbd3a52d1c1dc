import { type Deed, perform } from "../database/perform.ts";
import { ok, type Result } from "../rules/problem.ts";
import { mayComeIn, mindCautions, openForCheckIn, recordDecisions } from "./check-in-item.ts";
import { type DeskTally, tallyOrRefuse } from "./desk-goods.ts";
import { lockItems } from "./lock-rows.ts";

export interface SeveralTags {
  saleId: string;
  /** Whole tags, as they stand on the list that was ticked. */
  tags: string[];
}

/**
 * Takes in all that was ticked on a member's list. What another helper has taken in meanwhile is
 * named and left alone; the rest is recorded, since those pieces do lie on the table.
 */
export const checkInItems = (deed: Deed, given: SeveralTags): Promise<Result<DeskTally>> =>
  perform(deed, "check-in-items", given, async (tx) => {
    const sale = await openForCheckIn(tx, given.saleId);
    if (!sale.ok) return sale;
    const tally: DeskTally = { done: [], refused: [] };
    const items = await lockItems(tx, given.tags);
    for (const item of items.filter(({ saleId }) => saleId === given.saleId)) {
      const { id: itemId, tag, withMember: quantity } = item;
      const there = await mayComeIn(tx, item);
      const ready = there.ok ? await mindCautions(tx, item) : there;
      if (ready.ok) tally.done.push({ itemId, tag, quantity });
      else tally.refused.push({ tag, code: ready.problem.code, detail: ready.problem.detail });
    }
    const accepted = tally.done.map(({ itemId, quantity }) => ({
      ...{ itemId, quantity, decision: "accepted" as const },
    }));
    await recordDecisions(tx, deed.actor.id, accepted);
    const value = tallyOrRefuse(withUnknown(tally, given.tags));
    if (!value.ok) return value;
    return ok({ value: value.value, subjectId: given.saleId, detail: value.value });
  });

/** A tag that names no piece of this sale is refused like any other, so that none goes unnoticed. */
export function withUnknown(tally: DeskTally, tags: readonly string[]): DeskTally {
  const known = new Set([...tally.done, ...tally.refused].map(({ tag }) => tag));
  const unknown = [...new Set(tags)].filter((tag) => !known.has(tag));
  const refused = unknown.map((tag) => ({
    tag,
    code: "unknown-tag",
    detail: `No piece of this sale has the number ${tag}.`,
  }));
  return { done: tally.done, refused: [...tally.refused, ...refused] };
}
