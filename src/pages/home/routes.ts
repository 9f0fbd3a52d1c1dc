import { standingAgreement } from "../../database/agreements.ts";
import { nextShifts } from "../../database/own-shifts.ts";
import { policyNews } from "../../database/policy-news.ts";
import { saleCounts } from "../../database/sale-facts.ts";
import { busySales, plannedSale, type SaleRead } from "../../database/sales.ts";
import type { App, Request } from "../../plugins/types.ts";
import { stages } from "../../rules/sale-stage.ts";
import { stageWords } from "../../rules/stage-words.ts";
import { guildWords } from "../books/scene.ts";
import { daysText, type Region } from "../format.ts";
import { newsView } from "../policy/policy-page.ts";
import { ownRow } from "../shifts/own-routes.ts";
import { type Standing, tasksFor } from "./tasks.ts";

export async function homePages(app: App): Promise<void> {
  app.get("/", { config: { access: "signed-in" } }, async (request, reply) => {
    const actor = request.who();
    const standing = await standingFor(request);
    const tasks = tasksFor(actor.roles, standing);
    return reply.page("home/home", {
      title: "Start",
      name: actor.name,
      sales: standing.busy.map((sale) => saleView(sale, standing.region)),
      news: await newsFor(request, standing.busy),
      now: tasks.filter((task) => task.href),
      later: tasks.filter((task) => !task.href),
      shifts: (await nextShifts(request.server.parts.db, actor.id, request.server.now())).map(
        (shift) => ownRow(shift, standing.region),
      ),
    });
  });
}

function saleView(sale: SaleRead, region: Region) {
  const now = stages.indexOf(sale.stage);
  return {
    ...sale,
    when: daysText(sale.firstDay, sale.lastDay, region),
    stages: stages.map((stage, index) => ({
      label: stageWords[stage].label,
      state: index < now ? "done" : index === now ? "now" : "next",
    })),
  };
}

/** What the guild decided otherwise since the member agreed, sale by sale. */
async function newsFor(request: Request, busy: readonly SaleRead[]) {
  const { db } = request.server.parts;
  const guild = await guildWords(request);
  const all = busy.map(async ({ id, name }) => {
    const news = await policyNews(db, id, request.who().id);
    return {
      name,
      href: `/sales/${id}/agreement`,
      versions: news.map((one) => newsView(one, guild)),
    };
  });
  return (await Promise.all(all)).filter(({ versions }) => versions.length > 0);
}

async function standingFor(request: Request): Promise<Standing> {
  const { db } = request.server.parts;
  const { id } = request.who();
  const busy = await busySales(db);
  const sale = busy[0];
  const mine = sale ? await saleCounts(db, sale.id, id) : undefined;
  const agreement = sale ? await standingAgreement(db, sale.id, id) : null;
  return {
    busy,
    planned: await plannedSale(db),
    region: await db.guild.findFirstOrThrow(),
    myItems: mine?.items ?? 0,
    mySold: mine?.sold ?? 0,
    accepted: Boolean(agreement?.acceptedAt),
  };
}
