import { checkInCounts, listCheckInTimes, membersAt } from "../../database/check-in-times.ts";
import type { Request } from "../../plugins/types.ts";
import { groupBy } from "../../rules/group-by.ts";
import { allows } from "../../rules/sale-stage.ts";
import * as shiftWords from "../../rules/shifts/shift-words.ts";
import type { Region } from "../format.ts";
import { guildOf, saleOf } from "../sales/sale-of.ts";
import { cursorOf, nextHref, searchOf } from "../want-id.ts";

const pageLength = 40;

/** "10:00 AM – 10:30 AM" on the guild's clock. */
export const timesText = (
  { startsAt, minutes }: { startsAt: Date; minutes: number },
  { locale, timeZone }: Region,
): string => shiftWords.timesText({ startsAt: startsAt.toISOString(), minutes }, locale, timeZone);

/** "2 of 4 places free", or that it is full. */
export function placesText({ places, taken }: { places: number; taken: number }): string {
  const free = places - taken;
  return free <= 0 ? "Full" : `${free} of ${places} ${places === 1 ? "place" : "places"} free`;
}

/** Rows under their days. */
export function underDays<Row extends { startsAt: Date }>(
  rows: readonly Row[],
  { locale, timeZone }: Region,
): { title: string; times: Row[] }[] {
  const titleOf = (row: Row) => shiftWords.dayTitle(row.startsAt, locale, timeZone);
  return [...groupBy(rows, titleOf)].map(([title, times]) => ({ title, times }));
}

/** The check-in times of a sale, with who comes when. */
export async function timesPage(request: Request) {
  const { db } = request.server.parts;
  const query = request.query as { q?: string; after?: string };
  const sale = await saleOf(request, (request.params as { id: string }).id);
  const guild = await guildOf(request);
  const path = `/sales/${sale.id}/check-in-times`;
  const q = searchOf(query.q);
  const search = { memberId: request.who().id, q, after: cursorOf(query.after), limit: pageLength };
  const { items, next } = await listCheckInTimes(db, sale.id, search);
  const coming = groupBy(
    await membersAt(
      db,
      items.map(({ id }) => id),
    ),
    ({ timeId }) => timeId,
  );
  const plans = request.who().roles.some((role) => role === "chair" || role === "desk");
  const counts = await checkInCounts(db, sale.id);
  const rows = items.map((time) => ({
    ...time,
    times: timesText(time, guild),
    placesText: placesText(time),
    href: plans ? `${path}/${time.id}` : "",
    members: (coming.get(time.id) ?? []).map(({ number, name, pieces }) => ({
      who: `${number} ${name}`,
      pieces: pieces === 1 ? "1 piece" : `${pieces} pieces`,
    })),
  }));
  return {
    ...{ title: "Check-in times", sale, path, q, counts },
    mayPlan: plans && allows(sale.stage, "plan-check-in"),
    any: counts.times > 0,
    days: underDays(rows, guild),
    next: nextHref(path, next, { q }),
  };
}
