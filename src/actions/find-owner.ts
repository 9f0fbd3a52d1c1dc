import type { OwnerInput } from "../contract/suspense.ts";
import type { Deed } from "../database/perform.ts";
import { ok, type Result, refuseField } from "../rules/problem.ts";
import { readTag } from "../rules/tag-number.ts";
import { clearSuspense } from "./clear-suspense.ts";
import { type Identification, type Identified, identifyLine } from "./identify-line.ts";

/**
 * Gives a suspended line the owner that the treasurer names: a member, a piece (and so its member)
 * or the guild. Returns of the same piece that wait for it leave suspense with it.
 */
export async function findOwner(
  deed: Deed,
  input: OwnerInput & { lineId: string },
): Promise<Result<Identified>> {
  const owner = await ownerOf(deed, input);
  if (!owner.ok) return owner;
  const { lineId, reason } = input;
  const done = await identifyLine(deed, { lineId, reason, ...owner.value });
  if (!done.ok) return done;
  const { db, requestId, actor } = deed;
  const { receiptId } = await db.receiptLine.findUniqueOrThrow({ where: { id: lineId } });
  await clearSuspense({ db, requestId, byId: actor.id }, receiptId);
  return done;
}

type Owner = Pick<Identification, "memberId" | "itemId">;

async function ownerOf({ db }: Deed, input: OwnerInput): Promise<Result<Owner>> {
  if (input.owner === "guild") return ok({ memberId: null, itemId: null });
  if (input.owner === "member") {
    if (input.member === undefined) return refuseField("member", "Type the member's number.");
    const found = await db.member.findUnique({ where: { number: input.member } });
    if (!found) return refuseField("member", "Nobody in the guild has this number.");
    return ok({ memberId: found.id, itemId: null });
  }
  const tag = readTag(input.tag ?? "", [8, 10], "tag");
  if (!tag.ok) return tag;
  const item = await db.item.findUnique({ where: { tag: tag.value } });
  if (!item) return refuseField("tag", "No piece has this tag number.");
  return ok({ memberId: item.donated ? null : item.memberId, itemId: item.id });
}
