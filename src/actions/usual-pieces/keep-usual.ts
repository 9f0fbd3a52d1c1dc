import { v7 } from "uuid";
import { type Deed, perform } from "../../database/perform.ts";
import { ok, type Result, refuse } from "../../rules/problem.ts";
import { lockMember } from "../lock-rows.ts";

/** More than anybody weaves in turn; a list without an end would help nobody. */
const mostUsual = 200;

/** Keeps one of the member's own items as a piece to start from; the item stays as it is. */
export const keepUsual = (
  deed: Deed,
  given: { itemId: string; name: string },
): Promise<Result<{ id: string }>> =>
  perform(deed, "keep-usual-piece", given, async (tx) => {
    const memberId = deed.actor.id;
    const item = await tx.item.findFirst({ where: { id: given.itemId, memberId } });
    if (!item)
      return refuse("not-found", "There is no such item among yours. Nothing was recorded.");
    await lockMember(tx, memberId);
    const held = await tx.usualPiece.count({ where: { memberId, putAwayAt: null } });
    if (held >= mostUsual)
      return refuse(
        "limit-reached",
        `You can keep ${mostUsual} usual pieces. Put one away that you no longer make.`,
      );
    const { kindId, description, technique, size, price, piecesInSet } = item;
    const id = v7();
    await tx.usualPiece.create({
      data: {
        ...{ id, memberId, name: given.name },
        ...{ kindId, description, technique, size, price, piecesInSet },
        fibres: item.fibres as object[],
        labelDetails: item.labelDetails as object,
      },
    });
    return ok({ value: { id }, subjectId: id });
  });
