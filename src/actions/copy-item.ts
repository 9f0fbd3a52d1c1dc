import { type Deed, perform } from "../database/perform.ts";
import { entrySale } from "../database/sale-choice.ts";
import type { Fibre } from "../rules/fibre.ts";
import type { ItemDetails } from "../rules/item.ts";
import { wholeDetails } from "../rules/labels/details.ts";
import { ok, type Result, refuse } from "../rules/problem.ts";
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
    const { memberId, kind, price, fibres, labelDetails, ...row } = own.value;
    const item: ItemDetails = {
      ...row,
      kind: kind.code,
      price: Number(price),
      fibres: fibres as unknown as Fibre[],
      label: wholeDetails(labelDetails as object),
    };
    const { agreementVersion } = given;
    const entry = { saleId, memberId, items: [item], agreementVersion };
    const written = await writeItems(tx, deed.actor, entry, now);
    if (!written.ok) return written;
    const value = written.value[0]!;
    const detail = { tag: value.tag, saleId, copyOf: own.value.tag };
    return ok({ value, subjectId: value.id, detail });
  });
