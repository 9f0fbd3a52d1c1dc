import { findSale, type SaleRead } from "../../database/sales.ts";
import { notFound } from "../../plugins/errors.ts";
import type { Request } from "../../plugins/types.ts";
import { wantId } from "../want-id.ts";

export type WithId = { Params: { id: string } };

/** The sale an address names, or the end of the request. */
export async function saleOf(request: Request, id: string): Promise<SaleRead> {
  const sale = await findSale(request.server.parts.db, wantId(id, "this sale"));
  if (!sale) throw notFound("this sale");
  return sale;
}

export const guildOf = (request: Request) => request.server.parts.db.guild.findFirstOrThrow();
