import type { Request } from "../../plugins/types.ts";
import { saleOf } from "../sales/sale-of.ts";
import { searchOf } from "../want-id.ts";

/** The treasurer may look; the chair and the desk plan and tick. */
export const lookers = { config: { access: ["chair", "desk", "treasurer"] as const } };
export const keepers = { config: { access: ["chair", "desk"] as const } };

export type WithSale = { Params: { id: string } };
export type WithShift = { Params: { id: string; shiftId: string } };

/** Which shifts a list shows. */
export const choices = ["today", "open", "all"] as const;
export type Choice = (typeof choices)[number];

/** What the address of a list says; a tick carries it along and comes back to the same place. */
export interface ListQuery {
  show?: string;
  q?: string;
  after?: string;
}

export const listPath = (saleId: string): string => `/sales/${saleId}/shifts`;

/** The part of an address behind the question mark, with nothing empty in it. */
export function queryText({ show, q, after }: ListQuery): string {
  const kept = Object.entries({ show, q: searchOf(q), after }).filter(
    (pair): pair is [string, string] => typeof pair[1] === "string" && pair[1] !== "",
  );
  return kept.length === 0 ? "" : `?${new URLSearchParams(kept)}`;
}

export async function shiftsOf(request: Request) {
  const sale = await saleOf(request, (request.params as { id: string }).id);
  const guild = await request.server.parts.db.guild.findFirstOrThrow();
  return { sale, guild, path: listPath(sale.id) };
}

export const mayKeep = (request: Request): boolean =>
  request.who().roles.some((role) => role === "chair" || role === "desk");
