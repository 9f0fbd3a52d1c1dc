import { listOwnShifts, type OwnShift, ownHours } from "../../database/own-shifts.ts";
import type { App } from "../../plugins/types.ts";
import { dayTitle, hoursText } from "../../rules/shifts/shift-words.ts";
import type { Region } from "../format.ts";
import { cursorOf, nextHref } from "../want-id.ts";
import { markText, timesOf, whatText } from "./list-page.ts";

/** A member's own shifts and hours. Only one's own rows. */
export async function ownShiftPages(app: App): Promise<void> {
  const { db } = app.parts;

  app.get<{ Querystring: { after?: string } }>(
    "/shifts",
    { config: { access: "signed-in" } },
    async (request, reply) => {
      const { id } = request.who();
      const guild = await db.guild.findFirstOrThrow();
      const page = { after: cursorOf(request.query.after), limit: 30 };
      const { items, next } = await listOwnShifts(db, id, page);
      return reply.page("shifts/own", {
        title: "Your shifts",
        hours: (await ownHours(db, id)).map((one) => ({
          ...one,
          worked: hoursText(one.minutesWorked),
          shiftsText: one.shifts === 1 ? "1 shift" : `${one.shifts} shifts`,
        })),
        shifts: items.map((shift) => ownRow(shift, guild)),
        next: nextHref("/shifts", next, {}),
      });
    },
  );
}

export const ownRow = (shift: OwnShift, region: Region) => ({
  day: dayTitle(shift.startsAt, region.locale, region.timeZone),
  times: timesOf(shift, region),
  saleName: shift.saleName,
  what: whatText(shift),
  mark: shift.mark,
  markText: markText(shift),
});
