import type { MakingInput } from "../../contract/making.ts";
import { type Deed, perform } from "../../database/perform.ts";
import { ok, type Result, refuse } from "../../rules/problem.ts";

type Noted = Promise<Result<{ itemId: string } & MakingInput>>;

/**
 * Notes what one piece of a member's own item took to make, also long after it sold. Only the
 * member can: whoever helps at the desk finds no such item. The audit says that, and not what.
 */
export const noteMaking = (deed: Deed, itemId: string, input: MakingInput): Noted =>
  perform(deed, "note-making", { itemId, input }, async (tx) => {
    const own = { id: itemId, memberId: deed.actor.id };
    if (!(await tx.item.findFirst({ where: own, select: { id: true } })))
      return refuse("not-found", "There is no such item among yours. Nothing was changed.");
    const { minutes } = input;
    const materials = input.materials === null ? null : BigInt(input.materials);
    await tx.itemMaking.upsert({
      where: { itemId },
      create: { itemId, minutes, materials },
      update: { minutes, materials },
    });
    return ok({ value: { itemId, ...input }, subjectId: itemId });
  });
