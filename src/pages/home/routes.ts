import { standingAgreement } from "../../database/agreements.ts";
import { saleCounts } from "../../database/sale-facts.ts";
import { currentSale, plannedSale } from "../../database/sales.ts";
import type { App, Request } from "../../plugins/types.ts";
import { stages } from "../../rules/sale-stage.ts";
import { stageWords } from "../../rules/stage-words.ts";
import { daysText } from "../format.ts";
import { type Standing, tasksFor } from "./tasks.ts";

export async function homePages(app: App): Promise<void> {
  app.get("/", { config: { access: "signed-in" } }, async (request, reply) => {
    const actor = request.who();
    const standing = await standingFor(request);
    const { sale, region } = standing;
    const tasks = tasksFor(actor.roles, standing);
    const now = sale ? stages.indexOf(sale.stage) : -1;
    return reply.page("home/home", {
      title: "Start",
      name: actor.name,
      sale: sale && {
        ...sale,
        when: daysText(sale.firstDay, sale.lastDay, region),
        stages: stages.map((stage, index) => ({
          label: stageWords[stage].label,
          state: index < now ? "done" : index === now ? "now" : "next",
        })),
      },
      now: tasks.filter((task) => task.href),
      later: tasks.filter((task) => !task.href),
    });
  });
}

async function standingFor(request: Request): Promise<Standing> {
  const { db } = request.server.parts;
  const { id } = request.who();
  const sale = await currentSale(db);
  const mine = sale ? await saleCounts(db, sale.id, id) : undefined;
  const agreement = sale ? await standingAgreement(db, sale.id, id) : null;
  return {
    sale,
    planned: await plannedSale(db),
    region: await db.guild.findFirstOrThrow(),
    myItems: mine?.items ?? 0,
    mySold: mine?.sold ?? 0,
    accepted: Boolean(agreement?.acceptedAt),
  };
}
