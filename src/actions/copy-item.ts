import { cameHome } from "../database/came-home.ts";
import type { Transaction } from "../database/client.ts";
import { type Deed, perform } from "../database/perform.ts";
import { entrySale } from "../database/sale-choice.ts";
import { ok, type Result, refuse } from "../rules/problem.ts";
import { copyMakings, detailsOf, noteAgain } from "./copied.ts";
import { ownItem } from "./own-item.ts";
import { type Entered, writeItems } from "./write-items.ts";

export interface CopyItem {
  itemId: string;
  /** The sale the copy is entered for; without it, the members' current sale. */
  saleId?: string;
  agreementVersion?: number;
}

/** Enters the same again under a new tag, for the same member: also from an earlier sale. */
export const copyItem = (deed: Deed, given: CopyItem, now: Date): Promise<Result<Entered>> =>
  perform(deed, "copy-item", given, async (tx) => {
    const own = await ownItem(tx, deed.actor, given.itemId);
    if (!own.ok) return own;
    const saleId = given.saleId ?? (await entrySale(tx))?.id;
    if (!saleId) return refuse("not-found", "There is no sale to enter pieces for.");
    const { agreementVersion } = given;
    const { memberId } = own.value;
    const entry = { saleId, memberId, items: [detailsOf(own.value)], agreementVersion };
    const written = await writeItems(tx, deed.actor, entry, now);
    if (!written.ok) return written;
    const value = written.value[0]!;
    const copies = [{ id: value.id, earlierId: own.value.id }];
    await copyMakings(tx, copies);
    if (await isBroughtAgain(tx, own.value, saleId)) await noteAgain(tx, copies);
    const detail = { tag: value.tag, saleId, copyOf: own.value.tag };
    return ok({ value, subjectId: value.id, detail });
  });

/** A piece that came home from another sale is itself what is entered; otherwise it is one alike. */
async function isBroughtAgain(
  tx: Transaction,
  item: { id: string; saleId: string },
  saleId: string,
): Promise<boolean> {
  if (item.saleId === saleId) return false;
  return (await tx.item.count({ where: { id: item.id, ...cameHome } })) > 0;
}
