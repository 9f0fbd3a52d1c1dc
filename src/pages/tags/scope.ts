import type { PrintWhat } from "../../contract/prints.ts";
import type { ShownItem } from "../../database/items.ts";
import { findSale, type SaleRead } from "../../database/sales.ts";
import { notFound, RefusedRequest } from "../../plugins/errors.ts";
import { seenItem, tagsOf } from "../../plugins/seen-items.ts";
import type { Request } from "../../plugins/types.ts";
import { ok, type Result, refuseField } from "../../rules/problem.ts";
import { hasAny } from "../../rules/roles.ts";
import { type Fields, textOf } from "../items/fields.ts";
import { chosenSale } from "../items/scene.ts";
import { isId } from "../want-id.ts";

/** Whose tags are meant: one item's, one's own, a member's, or a whole sale's. */
export interface Scope {
  sale: SaleRead;
  what: PrintWhat;
  item?: ShownItem;
  itemId?: string;
  memberId?: string;
  /** Whose tags they are, for the name of the file. */
  about: string;
  /** The same choice as the fields of a form or an address. */
  fields: Record<string, string>;
}

export const isHelper = (request: Request): boolean =>
  hasAny(request.who().roles, ["desk", "chair"]);

export const whatOf = (given: Fields): PrintWhat =>
  textOf(given, "what") === "care-strip" ? "care-strip" : "tag";

/** Members choose among their own pieces; helpers also a member's or a whole sale's. */
export async function scopeOf(request: Request, given: Fields): Promise<Result<Scope>> {
  const { db } = request.server.parts;
  const actor = request.who();
  const what = whatOf(given);
  if (isId(textOf(given, "item"))) {
    const item = await seenItem(db, actor, textOf(given, "item"));
    if (item.memberId !== actor.id && !isHelper(request)) throw notFound("this item");
    const sale = await findSale(db, item.saleId);
    if (!sale) throw notFound("this sale");
    const fields = { item: item.id, what };
    const { memberId } = item;
    return ok({ ...{ sale, what, item, memberId, fields }, itemId: item.id, about: item.shownTag });
  }
  const sale = await chosenSale(request, textOf(given, "sale"));
  if (!sale) throw notFound("a sale with tags");
  const whose = textOf(given, "whose") || "mine";
  const fields = { sale: sale.id, whose, what };
  if (whose === "mine")
    return ok({ ...{ sale, what, fields }, memberId: actor.id, about: String(actor.number) });
  if (whose === "sale" && isHelper(request)) return ok({ sale, what, fields, about: "all" });
  const number = textOf(given, "member");
  if (!/^\d{1,4}$/.test(number))
    return refuseField("member", "Type the member's number, for example 104.");
  const memberId = await tagsOf(db, actor, Number(number)).catch(asRefusal);
  if (typeof memberId !== "string") return refuseField("member", `There is no member ${number}.`);
  const withMember = { ...fields, member: number };
  return ok({ ...{ sale, what, memberId }, about: number, fields: withMember });
}

/** An unknown number is put right in the form; everything else ends the request. */
function asRefusal(error: unknown): undefined {
  if (error instanceof RefusedRequest && error.problem.code === "not-found") return undefined;
  throw error;
}

export const pathOf = (fields: Record<string, string>, more: Record<string, string> = {}) =>
  `/tags?${new URLSearchParams({ ...fields, ...more })}`;
