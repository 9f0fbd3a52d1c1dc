import { pickUpItem } from "../../src/actions/pick-up-item.ts";
import type { Database } from "../../src/database/client.ts";
import type { ItemDetails } from "../../src/rules/item.ts";
import { buildMember, buildSale, deedOf } from "./build.ts";
import { enter, moveTo, takeIn } from "./build-items.ts";

type Who = Parameters<typeof deedOf>[1];

/** An item, and how many of its pieces go home: without a number all of them. */
interface Unsold extends Partial<ItemDetails> {
  home?: number;
}

/** An earlier sale at which this member's pieces stood and from which they went home again. */
export async function buildUnsold(
  db: Database,
  member: Who,
  pieces: readonly Unsold[],
  more: object = {},
) {
  const sale = await buildSale(db, { name: "Spring sale", ...more });
  const helper = await buildMember(db, ["desk"]);
  const items = [];
  for (const { home, ...piece } of pieces)
    items.push({ ...(await enter(db, member, sale, piece)), home });
  await moveTo(db, sale, "entries-closed");
  for (const { tag } of items) await takeIn(db, helper, sale, tag);
  await moveTo(db, sale, "settling");
  for (const { tag, home } of items) {
    const given = { saleId: sale.id, tag, reason: "", ...(home ? { quantity: home } : {}) };
    const done = await pickUpItem(deedOf(db, helper), given);
    if (!done.ok) throw new Error(JSON.stringify(done.problem));
  }
  await moveTo(db, sale, "closed");
  return { sale, items };
}
