import type { Transaction } from "../database/client.ts";
import type { Actor } from "../database/perform.ts";
import { ok, type Result, refuse } from "../rules/problem.ts";
import { helpsOthers } from "./entry-rules.ts";

/**
 * An item that this person may change: one's own, or anybody's at the desk. A foreign item and an
 * unknown one answer alike, so that nobody learns what others have entered.
 */
export async function ownItem(tx: Transaction, actor: Actor, itemId: string) {
  const item = await tx.item.findFirst({
    where: { id: itemId, ...(helpsOthers(actor) ? {} : { memberId: actor.id }) },
    include: { kind: true },
  });
  return item ? ok(item) : noSuchItem();
}

const noSuchItem = (): Result<never> =>
  refuse("not-found", "There is no such item among yours. Nothing was changed.");
