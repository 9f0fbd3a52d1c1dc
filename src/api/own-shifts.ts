import { z } from "zod";
import { ownHoursShown, ownShiftShown } from "../contract/shift.ts";
import { listOwnShifts, ownHours } from "../database/own-shifts.ts";
import type { App } from "../plugins/types.ts";
import { pageOf, pageQuery, refusals, typed } from "./typed.ts";

/** A member's own shifts; there is no way to ask for anybody else's. */
export async function ownShiftApi(app: App): Promise<void> {
  const { db } = app.parts;

  typed(app).get("/me/shifts", {
    config: { access: "signed-in" },
    schema: {
      tags: ["shifts"],
      summary: "My shifts, the latest first, and my hours by sale",
      querystring: pageQuery.omit({ q: true }).extend({ after: z.uuid().optional() }),
      response: {
        200: pageOf(ownShiftShown).extend({ hours: z.array(ownHoursShown) }),
        ...refusals,
      },
    },
    handler: async (request) => {
      const { id } = request.who();
      const { items, next } = await listOwnShifts(db, id, request.query);
      const shifts = items.map((one) => ({ ...one, startsAt: one.startsAt.toISOString() }));
      return { items: shifts, next, hours: await ownHours(db, id) };
    },
  });
}
