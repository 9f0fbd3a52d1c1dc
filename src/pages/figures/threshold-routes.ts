import { z } from "zod";
import { setReportThreshold } from "../../actions/set-report-threshold.ts";
import {
  type ReportThresholdChange,
  reportThresholdChange,
} from "../../contract/report-threshold.ts";
import { versionNumber } from "../../contract/version.ts";
import type { App, Request } from "../../plugins/types.ts";
import { amountText, parseMoney } from "../../rules/currency.ts";
import { ok, type Problem, type Result } from "../../rules/problem.ts";
import { books } from "../books/scene.ts";
import { readForm } from "../read-form.ts";

const path = "/books/year-end/threshold";

/** From what amount on the year's list flags a member. */
export async function thresholdPages(app: App): Promise<void> {
  app.get(path, books, async (request, reply) =>
    reply.page("figures/threshold", await page(request as Request)),
  );

  app.post(path, books, async (request, reply) => {
    const { currency } = await app.parts.db.guild.findFirstOrThrow();
    const read = readThreshold(request.body, currency);
    const done = read.ok ? await setReportThreshold(request.deed(), read.value) : read;
    if (!done.ok)
      return reply.page(
        "figures/threshold",
        await page(request as Request, done.problem),
        done.problem.status,
      );
    return reply.seeOther("/books/year-end", { kind: "good", text: "The threshold is kept." });
  });
}

const form = reportThresholdChange.extend({
  amount: z.string("Type an amount, or leave it empty").default(""),
  version: z.coerce.number().pipe(versionNumber),
});

/** An empty amount means that nothing is to be reported. */
function readThreshold(body: unknown, currency: string): Result<ReportThresholdChange> {
  const read = readForm(form, body);
  if (!read.ok) return read;
  const { amount: typed, ...rest } = read.value;
  if (typed.trim() === "") return ok({ ...rest, amount: null });
  const amount = parseMoney(typed, currency);
  return amount.ok ? readForm(reportThresholdChange, { ...rest, amount: amount.value }) : amount;
}

async function page(request: Request, problem?: Problem) {
  const guild = await request.server.parts.db.guild.findFirstOrThrow();
  const { reportThreshold, reportCounts, reportFrom, currency, version } = guild;
  return {
    title: "Reporting threshold",
    values: problem
      ? request.body
      : {
          amount: reportThreshold === null ? "" : amountText(Number(reportThreshold), currency),
          ...{ counts: reportCounts, from: reportFrom, version: String(version) },
        },
    problem,
  };
}
