import { listRuns } from "../../database/paying-runs.ts";
import type { App } from "../../plugins/types.ts";
import { dayText } from "../../rules/day.ts";
import { books, guildWords, numberAfter } from "../books/scene.ts";
import { methodWords } from "../books/statement-page.ts";
import { nextHref, searchOf } from "../want-id.ts";
import { payingPlaces, paymentsText } from "./scene.ts";

type Query = { Querystring: { q?: string; after?: string } };

/** All paying runs, the newest first. */
export async function runListPages(app: App): Promise<void> {
  app.get<Query>("/books/runs", books, async (request, reply) => {
    const q = searchOf(request.query.q);
    const before = numberAfter(request.query.after) || undefined;
    const { items, next } = await listRuns(app.parts.db, { q, before, limit: 20 });
    const { money, locale } = await guildWords(request);
    return reply.page("paying/runs", {
      title: "Paying runs",
      places: payingPlaces("/books/runs"),
      q,
      next: nextHref("/books/runs", next, { q }),
      runs: items.map((run) => ({
        name: `Run ${run.number}`,
        href: `/books/runs/${run.id}`,
        method: methodWords[run.method],
        day: dayText(run.day.toISOString().slice(0, 10), locale),
        payments: paymentsText(run.payments),
        total: money(run.total),
        waiting: run.waiting,
        empty: run.payments === 0,
      })),
    });
  });
}
