import type { Transaction } from "../database/client.ts";
import { type Deed, perform } from "../database/perform.ts";
import type { ItemDetails } from "../rules/item.ts";
import { type LabelDetails, wholeDetails } from "../rules/labels/details.ts";
import { moveOf } from "../rules/movement.ts";
import { ok, type Problem, problem, type Result, refuse } from "../rules/problem.ts";
import { allows } from "../rules/sale-stage.ts";
import { markdownStays } from "./allow-markdown.ts";
import { checkItems, entriesAllowed, withinLimits } from "./entry-rules.ts";
import { type LockedItem, lockItem, lockMember, shareSale } from "./lock-rows.ts";
import { ownItem } from "./own-item.ts";
import { columns, stamped } from "./write-items.ts";

export interface EditItem {
  itemId: string;
  /** The version that was on the screen. */
  version: number;
  /** Without label details or a word on the markdown, those of the item stay. */
  item: Omit<ItemDetails, "label" | "markdown"> & {
    label?: LabelDetails | undefined;
    markdown?: boolean | undefined;
  };
}

type Edited = { id: string; version: number };

/** Changes an item that has not come to the desk yet. Its tag number stays. */
export const editItem = (deed: Deed, given: EditItem, now: Date): Promise<Result<Edited>> =>
  perform(deed, "edit-item", given, (tx) => edit(tx, deed, given, now), {
    "checked-in": () => checkedIn("It"),
  });

async function edit(tx: Transaction, { actor }: Deed, given: EditItem, now: Date) {
  const own = await ownItem(tx, actor, given.itemId);
  if (!own.ok) return own;
  const sale = await shareSale(tx, own.value.saleId);
  if (!sale.ok) return sale;
  const open = entriesAllowed(sale.value, actor, now);
  if (!open.ok) return open;
  await lockMember(tx, own.value.memberId);
  const locked = await lockItem(tx, own.value.tag);
  const free = await editable(tx, locked, given.version);
  if (!free.ok) return free;
  const kept = own.value.kindId;
  const before = wholeDetails(own.value.labelDetails as object);
  const typed = {
    ...given.item,
    label: given.item.label ?? before,
    markdown: given.item.markdown ?? own.value.markdown,
  };
  if (typed.markdown !== own.value.markdown && !allows(sale.value.stage, "allow-markdown"))
    return markdownStays(sale.value);
  const item = stamped(typed, actor, now, before.care);
  const kinds = await checkItems(tx, sale.value, locked.memberId, [item], () => "", kept);
  if (!kinds.ok) return kinds;
  const kindId = kinds.value[0]!;
  const added = kindId === kept ? [] : [{ kindId, prefix: "" }];
  const room = await withinLimits(tx, sale.value, locked.memberId, added, locked.id);
  if (!room.ok) return room;
  await change(tx, actor.id, locked, item, kindId);
  return ok({
    value: { id: locked.id, version: locked.version + 1 },
    subjectId: locked.id,
    detail: {
      ...{ tag: locked.tag, price: item.price, quantity: item.quantity },
      ...(item.label.care.tested ? { careTested: true } : {}),
    },
  });
}

export async function editable(
  tx: Transaction,
  item: LockedItem,
  version: number,
): Promise<Result<true>> {
  if (item.withdrawnAt)
    return refuse("withdrawn", "Put the entry back first, then it can be changed.");
  const came = await tx.movement.findFirst({ where: { itemId: item.id, kind: "checked-in" } });
  if (came) return { ok: false, problem: checkedIn(item.description) };
  if (item.version === version) return ok(true);
  return refuse(
    "changed-meanwhile",
    "Your changes were not saved. Load the page again to see how it stands now, then change it.",
  );
}

const checkedIn = (what: string): Problem =>
  problem(
    "checked-in",
    `${what} has been checked in, so what its tag says stays as it is. Ask the desk if it must change.`,
  );

async function change(
  tx: Transaction,
  byId: string,
  locked: LockedItem,
  item: ItemDetails,
  kindId: string,
): Promise<void> {
  const more = item.quantity - locked.entered;
  await tx.item.update({
    where: { id: locked.id },
    data: { ...columns(item, kindId), quantity: item.quantity, version: { increment: 1 } },
  });
  if (more === 0) return;
  const way = moveOf(more > 0 ? "entered" : "unentered");
  const quantity = Math.abs(more);
  await tx.movement.create({ data: { itemId: locked.id, ...way, quantity, byId } });
}
