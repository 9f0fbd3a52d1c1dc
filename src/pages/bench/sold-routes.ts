import { listElsewhere } from "../../database/sold/elsewhere.ts";
import { soldRowsOf } from "../../database/sold/sold-rows.ts";
import type { App, Request } from "../../plugins/types.ts";
import { printSoldSummary } from "../../printing/sold-summary.ts";
import { dayIn } from "../../rules/day.ts";
import { elsewhereCsv } from "../../rules/sold/elsewhere-csv.ts";
import { soldReport } from "../../rules/sold/report.ts";
import { soldCsv } from "../../rules/sold/sold-csv.ts";
import { guildWords } from "../books/scene.ts";
import { sendCsv } from "../figures/send-csv.ts";
import { sendPdf } from "../paying/scene.ts";
import { elsewherePages } from "./elsewhere-routes.ts";
import { soldListPage } from "./sold-list.ts";
import { soldPage } from "./sold-page.ts";
import { mine, soldScene } from "./sold-scene.ts";

/** What sold, for the member alone: figures, the pieces behind them, and files to take along. */
export async function soldPages(app: App): Promise<void> {
  await app.register(elsewherePages);
  const { db } = app.parts;

  app.get("/bench/sold", mine, async (request, reply) =>
    reply.page("bench/sold", soldPage(await soldScene(request))),
  );

  app.get("/bench/sold/pieces", mine, async (request, reply) =>
    reply.page("bench/sold-pieces", soldListPage(request, await soldScene(request))),
  );

  app.get("/bench/sold/pieces.csv", mine, async (request, reply) => {
    const guild = await guildWords(request);
    const rows = await soldRowsOf(db, request.who().id);
    return sendCsv(reply, "what-sold.csv", soldCsv(rows, guild));
  });

  app.get("/bench/elsewhere.csv", mine, async (request, reply) => {
    const { currency } = await guildWords(request);
    const { items } = await listElsewhere(db, request.who().id);
    return sendCsv(reply, "sold-elsewhere.csv", elsewhereCsv(items, currency));
  });

  app.get("/bench/sold/summary.pdf", mine, async (request, reply) =>
    sendPdf(reply, "what-sold.pdf", await summary(request)),
  );
}

async function summary(request: Request): Promise<Uint8Array> {
  const { rows, bandName } = await soldScene(request);
  const guild = await request.server.parts.db.guild.findFirstOrThrow();
  const now = request.server.now();
  const about = { guild, member: request.who(), day: dayIn(now, guild.timeZone) };
  return printSoldSummary({ ...about, report: soldReport(rows, {}, bandName) }, now);
}
