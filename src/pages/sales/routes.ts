import { z } from "zod";
import { addSale } from "../../actions/add-sale.ts";
import { editSale } from "../../actions/edit-sale.ts";
import { moveSale } from "../../actions/move-sale.ts";
import { moveShape } from "../../contract/sale.ts";
import { standingAgreement } from "../../database/agreements.ts";
import { saleCounts } from "../../database/sale-facts.ts";
import { listSales, listTills, type SaleRead } from "../../database/sales.ts";
import type { App, Request } from "../../plugins/types.ts";
import type { Problem } from "../../rules/problem.ts";
import { hasAny } from "../../rules/roles.ts";
import { stageWords } from "../../rules/stage-words.ts";
import { daysText } from "../format.ts";
import { readForm } from "../read-form.ts";
import { cursorOf, nextHref, searchOf } from "../want-id.ts";
import { agreementPages } from "./agreement-routes.ts";
import { onNewForm, readNewSale, readSaleChange } from "./form.ts";
import { firstValues, saleFormPage, valuesOf } from "./form-page.ts";
import { goodsPages } from "./goods-routes.ts";
import { letterPages } from "./letter-routes.ts";
import { overviewPage } from "./overview.ts";
import { guildOf, saleOf, type WithId } from "./sale-of.ts";
import { termsPages } from "./terms-routes.ts";
import { tillDevicePages } from "./till-device-routes.ts";
import { tillPages } from "./till-routes.ts";
import { unsentPages } from "./unsent-routes.ts";

type Query = { Querystring: { q?: string; after?: string } };

const readers = { config: { access: ["chair", "treasurer", "desk"] as const } };
const chair = { config: { access: ["chair"] as const } };
const moveForm = moveShape.extend({ version: z.coerce.number().pipe(moveShape.shape.version) });

export async function salePages(app: App): Promise<void> {
  await app.register(listPages);
  await app.register(planPages);
  await app.register(editPages);
  await app.register(overviewPages);
  await app.register(tillPages);
  await app.register(tillDevicePages);
  await app.register(unsentPages);
  await app.register(agreementPages);
  await app.register(termsPages);
  await app.register(goodsPages);
  await app.register(letterPages);
}

async function listPages(app: App): Promise<void> {
  app.get<Query>("/sales", readers, async (request, reply) => {
    const q = searchOf(request.query.q);
    const after = cursorOf(request.query.after);
    const found = await listSales(app.parts.db, { q, after, limit: 20 });
    const guild = await guildOf(request);
    return reply.page("sales/list", {
      title: "Sales",
      q,
      isChair: request.who().roles.includes("chair"),
      next: nextHref("/sales", found.next, { q }),
      sales: found.items.map((sale) => ({
        ...sale,
        href: `/sales/${sale.id}`,
        when: daysText(sale.firstDay, sale.lastDay, guild),
      })),
    });
  });
}

async function planPages(app: App): Promise<void> {
  const { db } = app.parts;

  app.get("/sales/new", chair, async (request, reply) => {
    const guild = await guildOf(request);
    return reply.page("sales/form", await saleFormPage({ db, guild, values: firstValues(guild) }));
  });

  app.post("/sales", chair, async (request, reply) => {
    const guild = await guildOf(request);
    const read = readNewSale(request.body, guild);
    const added = read.ok ? await addSale(request.deed(), read.value) : read;
    if (!added.ok) {
      const filling = { db, guild, values: request.body, problem: onNewForm(added.problem) };
      return reply.page("sales/form", await saleFormPage(filling), added.problem.status);
    }
    return reply.seeOther(`/sales/${added.value.id}`, {
      kind: "good",
      text: "The sale is planned. Members see it once you open entries.",
    });
  });
}

async function editPages(app: App): Promise<void> {
  const { db } = app.parts;

  app.get<WithId>("/sales/:id/edit", chair, async (request, reply) => {
    const sale = await saleOf(request, request.params.id);
    const guild = await guildOf(request);
    const values = valuesOf(sale, guild);
    return reply.page("sales/form", await saleFormPage({ db, guild, sale, values }));
  });

  app.post<WithId>("/sales/:id/edit", chair, async (request, reply) => {
    const sale = await saleOf(request, request.params.id);
    const guild = await guildOf(request);
    const read = readSaleChange(request.body, guild);
    const edited = read.ok ? await editSale(request.deed(), sale.id, read.value) : read;
    if (!edited.ok) {
      const filling = { db, guild, sale, values: request.body, problem: edited.problem };
      return reply.page("sales/form", await saleFormPage(filling), edited.problem.status);
    }
    return reply.seeOther(`/sales/${sale.id}`, { kind: "good", text: "The change is kept." });
  });
}

async function overviewPages(app: App): Promise<void> {
  app.get<WithId>("/sales/:id", readers, async (request, reply) =>
    reply.page("sales/sale", await overviewOf(request, await saleOf(request, request.params.id))),
  );

  app.post<WithId>("/sales/:id/moves", chair, async (request, reply) => {
    const sale = await saleOf(request, request.params.id);
    const read = readForm(moveForm, request.body);
    const moved = read.ok ? await moveSale(request.deed(), sale.id, read.value) : read;
    if (!moved.ok) {
      const page = await overviewOf(request, sale, moved.problem);
      return reply.page("sales/sale", page, moved.problem.status);
    }
    const { label, allows } = stageWords[moved.value.stage];
    return reply.seeOther(`/sales/${sale.id}`, { kind: "good", title: label, text: allows });
  });
}

async function overviewOf(request: Request, sale: SaleRead, problem?: Problem) {
  const { db } = request.server.parts;
  const actor = request.who();
  const agreement = await standingAgreement(db, sale.id, actor.id);
  return overviewPage({
    sale,
    guild: await guildOf(request),
    counts: await saleCounts(db, sale.id),
    tills: await listTills(db, sale.id),
    accepted: agreement?.accepted ?? 0,
    isChair: actor.roles.includes("chair"),
    decides: hasAny(actor.roles, ["chair", "treasurer"]),
    ...(problem ? { problem, values: request.body } : {}),
  });
}
