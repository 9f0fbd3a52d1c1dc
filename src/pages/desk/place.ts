import { deskSale } from "../../database/sale-choice.ts";
import { findSale, type SaleRead } from "../../database/sales.ts";
import { notFound } from "../../plugins/errors.ts";
import type { Request } from "../../plugins/types.ts";
import { allows } from "../../rules/sale-stage.ts";
import { type Fields, textOf } from "../items/fields.ts";
import { isId } from "../want-id.ts";

/** What the desk does at this stage: take pieces in, hand them back, or neither. */
export type DeskMode = "check-in" | "pick-up" | "closed";

export const modeOf = ({ stage }: SaleRead): DeskMode => {
  if (allows(stage, "check-in")) return "check-in";
  return allows(stage, "pick-up") ? "pick-up" : "closed";
};

/** The sale on the screen, which the forms carry along so that a deed never lands in another one. */
export async function saleAtDesk(request: Request, given: Fields): Promise<SaleRead | null> {
  const { db } = request.server.parts;
  const id = textOf(given, "sale");
  if (id === "") return deskSale(db);
  const sale = isId(id) ? await findSale(db, id) : null;
  if (!sale) throw notFound("this sale");
  return sale;
}

/** Why the desk has nothing to do at this stage. */
export const closedText = ({ stage }: SaleRead): string =>
  ["planning", "entries-open"].includes(stage)
    ? "Members are still entering their pieces. Check-in starts when the chair closes the entries."
    : "This sale is closed. Its pieces are accounted for.";
