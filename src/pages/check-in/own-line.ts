import { listCheckInTimes, pickedTime } from "../../database/check-in-times.ts";
import type { SaleRead } from "../../database/sales.ts";
import type { Request } from "../../plugins/types.ts";
import { allows } from "../../rules/sale-stage.ts";
import { dayTitle } from "../../rules/shifts/shift-words.ts";
import { guildOf } from "../sales/sale-of.ts";
import { timesText } from "./list-page.ts";

/** One line above a member's items: when they are expected, or that a time can be picked. */
export async function checkInLine(request: Request, sale: SaleRead) {
  if (!allows(sale.stage, "pick-check-in")) return undefined;
  const { db } = request.server.parts;
  const memberId = request.who().id;
  const guild = await guildOf(request);
  const href = `/items/check-in?sale=${sale.id}`;
  const picked = await pickedTime(db, { saleId: sale.id, memberId });
  if (picked) {
    const day = dayTitle(picked.startsAt, guild.locale, guild.timeZone);
    return { href, text: `The desk expects you on ${day}, ${timesText(picked, guild)}.` };
  }
  const search = { memberId, from: request.server.now(), limit: 1 };
  const { items } = await listCheckInTimes(db, sale.id, search);
  return items.length > 0
    ? { href, text: "You have not picked a time to bring your pieces yet." }
    : undefined;
}
