import { type Deed, perform } from "../database/perform.ts";
import type { SaleRead } from "../database/sales.ts";
import { ok, type Result, refuse } from "../rules/problem.ts";
import { allows } from "../rules/sale-stage.ts";
import { lockItem, shareSale } from "./lock-rows.ts";
import { ownItem } from "./own-item.ts";
import { changedMeanwhile } from "./sale-lock.ts";

export interface AllowMarkdown {
  itemId: string;
  allowed: boolean;
  /** The version that was on the screen. */
  version: number;
}

/**
 * A member lets the guild mark a piece down on the last day, or no longer. Unlike what the tag
 * says, this may still change when the desk has taken the piece in, until the tills sell.
 */
export const allowMarkdown = (
  deed: Deed,
  given: AllowMarkdown,
): Promise<Result<{ id: string; version: number }>> =>
  perform(deed, "allow-markdown", given, async (tx) => {
    const own = await ownItem(tx, deed.actor, given.itemId);
    if (!own.ok) return own;
    const sale = await shareSale(tx, own.value.saleId);
    if (!sale.ok) return sale;
    if (!allows(sale.value.stage, "allow-markdown")) return markdownStays(sale.value);
    const item = await lockItem(tx, own.value.tag);
    if (item.withdrawnAt)
      return refuse("withdrawn", "Put the entry back first, then it can be changed.");
    if (item.version !== given.version) return changedMeanwhile();
    await tx.item.update({
      where: { id: item.id },
      data: { markdown: given.allowed, version: { increment: 1 } },
    });
    return ok({
      value: { id: item.id, version: item.version + 1 },
      subjectId: item.id,
      detail: { tag: item.tag, allowed: given.allowed },
    });
  });

export const markdownStays = (sale: SaleRead) => {
  const message =
    sale.stage === "planning"
      ? `Entries for ${sale.name} are not open yet, so nothing about the markdown was changed.`
      : "Whether a piece may be marked down stays as it was when selling began.";
  return refuse("stage-closed", message, [{ field: "markdown", message }]);
};
