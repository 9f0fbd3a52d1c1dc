import { z } from "zod";
import { setReportThreshold } from "../actions/set-report-threshold.ts";
import { memberYearShape } from "../contract/figures.ts";
import { reportThresholdChange, reportThresholdShape } from "../contract/report-threshold.ts";
import { flagged } from "../database/figures/flagged.ts";
import { onOneSnapshot } from "../database/figures/snapshot.ts";
import { memberYears, yearSpan } from "../database/figures/year-totals.ts";
import { reportThresholdOf } from "../database/report-threshold.ts";
import { orRefuse } from "../plugins/errors.ts";
import type { App } from "../plugins/types.ts";
import { pageOf, pageQuery, refusals, typed } from "./typed.ts";

const books = { access: ["treasurer", "chair"] as const };
const shown = reportThresholdShape.extend({ version: z.number().int() });

/** What a calendar year came to for each member, and from what amount on that is flagged. */
export async function yearApi(app: App): Promise<void> {
  const route = typed(app);
  const { db } = app.parts;
  const present = async () => {
    const guild = await db.guild.findFirstOrThrow();
    const { amount = null } = (await reportThresholdOf(db)) ?? {};
    return {
      amount,
      counts: guild.reportCounts as "sold" | "paid",
      from: guild.reportFrom as "at" | "over",
      version: guild.version,
    };
  };

  route.get("/years/:year/members", {
    config: books,
    schema: {
      tags: ["books"],
      summary: "Members' totals of a calendar year where the guild is, by number",
      params: z.object({ year: z.coerce.number().int().min(1900).max(2199) }),
      querystring: pageQuery.extend({
        after: z.coerce.number().int().min(0).max(9_999).optional(),
      }),
      response: { 200: pageOf(memberYearShape), ...refusals },
    },
    handler: async ({ params: { year }, query }) => {
      const { timeZone } = await db.guild.findFirstOrThrow();
      const span = yearSpan(year, timeZone);
      const { items, next } = await onOneSnapshot(db, (tx) => memberYears(tx, span, query));
      return { items: flagged(items, year, timeZone, await reportThresholdOf(db)), next };
    },
  });

  route.get("/report-threshold", {
    config: books,
    schema: {
      tags: ["books"],
      summary: "From what amount on a member's year is flagged",
      response: { 200: shown, ...refusals },
    },
    handler: present,
  });

  route.put("/report-threshold", {
    config: books,
    schema: {
      tags: ["books"],
      summary: "Set it, as the guild's accountant says; an amount of null flags nobody",
      body: reportThresholdChange,
      response: { 200: shown, ...refusals },
    },
    handler: async (request) => {
      orRefuse(await setReportThreshold(request.deed(), request.body));
      return present();
    },
  });
}
