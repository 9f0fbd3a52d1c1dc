import { v7 } from "uuid";
import { canonical } from "../database/canonical.ts";
import type { Transaction } from "../database/client.ts";
import type { Actor } from "../database/perform.ts";
import type { SaleRead } from "../database/sales.ts";
import type { ItemDetails } from "../rules/item.ts";
import type { LabelCare } from "../rules/labels/details.ts";
import { moveOf } from "../rules/movement.ts";
import { ok, type Result, refuseField } from "../rules/problem.ts";
import { makeTag, type TagLength } from "../rules/tag-number.ts";
import {
  acceptTerms,
  checkItems,
  entriesAllowed,
  mayEnterFor,
  withinLimits,
} from "./entry-rules.ts";
import { lockMember, shareSale } from "./lock-rows.ts";

export interface Entry {
  saleId: string;
  memberId: string;
  items: readonly ItemDetails[];
  /** The version of the agreement that was read and ticked with this entry. */
  agreementVersion?: number;
  /** The draft in which it was typed, which is done with when the items are entered. */
  draftId?: string;
}

export interface Entered {
  id: string;
  tag: string;
  number: number;
}

type Member = Awaited<ReturnType<typeof lockMember>>;

/**
 * Enters items for one member, all or none. Their numbers are taken under the lock of the member's
 * row, so that two entries at once get different tags and a failed one leaves no gap.
 */
export async function writeItems(
  tx: Transaction,
  actor: Actor,
  entry: Entry,
  now: Date,
  prefix: (index: number) => string = () => "",
): Promise<Result<Entered[]>> {
  const may = mayEnterFor(actor, entry.memberId);
  if (!may.ok) return may;
  const sale = await shareSale(tx, entry.saleId);
  if (!sale.ok) return sale;
  const open = entriesAllowed(sale.value, actor, now);
  if (!open.ok) return open;
  const member = await lockMember(tx, entry.memberId);
  if (member.status !== "active")
    return refuseField("memberNumber", "This member is resting. The chair can make them active.");
  const kinds = await checkItems(tx, sale.value, member.id, entry.items, prefix);
  if (!kinds.ok) return kinds;
  const agreed = await acceptTerms(tx, sale.value, member.id, entry.agreementVersion);
  if (!agreed.ok) return agreed;
  const added = kinds.value.map((kindId, index) => ({ kindId, prefix: prefix(index) }));
  const room = await withinLimits(tx, sale.value, member.id, added);
  if (!room.ok) return room;
  const tags = await nextTags(tx, member, entry.items.length);
  if (!tags.ok) return tags;
  const items = entry.items.map((item) => stamped(item, actor, now));
  await insert(tx, actor, { ...entry, items, sale: sale.value }, kinds.value, tags.value);
  const { draftId: id } = entry;
  if (id) await tx.entryDraft.deleteMany({ where: { id, memberId: actor.id } });
  return ok(tags.value);
}

async function nextTags(
  tx: Transaction,
  member: Member,
  count: number,
): Promise<Result<Entered[]>> {
  const guild = await tx.guild.findFirstOrThrow();
  const entered: Entered[] = [];
  for (let number = member.nextItemNumber; entered.length < count; number += 1) {
    const tag = makeTag(member.number, number, guild.tagLength as TagLength);
    if (!tag.ok) return tag;
    entered.push({ id: v7(), tag: tag.value, number });
  }
  await tx.member.update({
    where: { id: member.id },
    data: { nextItemNumber: { increment: count } },
  });
  return ok(entered);
}

async function insert(
  tx: Transaction,
  actor: Actor,
  { items, memberId, sale }: Entry & { sale: SaleRead },
  kindIds: readonly string[],
  tags: readonly Entered[],
): Promise<void> {
  await tx.item.createMany({
    data: items.map((item, index) => ({
      ...columns(item, kindIds[index]!),
      ...{ ...tags[index]!, saleId: sale.id, memberId, quantity: item.quantity },
    })),
  });
  await tx.movement.createMany({
    data: items.map(({ quantity }, index) => ({
      itemId: tags[index]!.id,
      ...moveOf("entered"),
      ...{ quantity, byId: actor.id },
    })),
  });
}

/**
 * Keeps who says that harder care was tested, and when. The same choice keeps its first stamp, so
 * that correcting a price is not signing for the care again.
 */
export function stamped(
  item: ItemDetails,
  actor: Actor,
  now: Date,
  before?: LabelCare,
): ItemDetails {
  const { chosen, tested } = item.label.care;
  const care: LabelCare = { chosen, tested };
  if (!tested) return { ...item, label: { ...item.label, care } };
  const same = before?.tested && canonical(before.chosen) === canonical(chosen);
  const stamp =
    same && before.testedAt
      ? { testedBy: before.testedBy, testedAt: before.testedAt }
      : { testedBy: `${actor.number} ${actor.name}`, testedAt: now.toISOString() };
  return { ...item, label: { ...item.label, care: { ...care, ...stamp } } };
}

/** The columns that a member's words fill; the quantity goes with a movement and is set apart. */
export const columns = (item: ItemDetails, kindId: string) => ({
  kindId,
  description: item.description,
  technique: item.technique,
  fibres: item.fibres as object[],
  size: item.size,
  colours: item.colours,
  labelDetails: item.label as object,
  price: BigInt(item.price),
  piecesInSet: item.piecesInSet,
  donated: item.donated,
  markdown: item.markdown,
});
