import {
  changeCheckInTime,
  planCheckInTimes,
  withdrawCheckInTime,
} from "../../actions/check-in-times/plan-times.ts";
import { findCheckInTime } from "../../database/check-in-times.ts";
import { notFound } from "../../plugins/errors.ts";
import type { App, Reply, Request } from "../../plugins/types.ts";
import type { Problem } from "../../rules/problem.ts";
import { allows } from "../../rules/sale-stage.ts";
import { dayTitle } from "../../rules/shifts/shift-words.ts";
import type { Fields } from "../items/fields.ts";
import { guildOf, saleOf } from "../sales/sale-of.ts";
import { versionOf } from "../shifts/form.ts";
import { wantId } from "../want-id.ts";
import { readTimeChange, readTimes, valuesOf } from "./form.ts";
import { timesPage, timesText } from "./list-page.ts";
import { ownTimePages } from "./own-routes.ts";

const lookers = { config: { access: ["chair", "desk", "treasurer"] as const } };
const planners = { config: { access: ["chair", "desk"] as const } };

type WithSale = { Params: { id: string } };
type WithTime = { Params: { id: string; timeId: string } };

/** When members bring their pieces: the chair plans times, members pick, the desk sees who comes. */
export async function checkInPages(app: App): Promise<void> {
  await app.register(listPages);
  await app.register(onePages);
  await app.register(ownTimePages);
}

const pathOf = (saleId: string): string => `/sales/${saleId}/check-in-times`;

async function listPages(app: App): Promise<void> {
  app.get<WithSale>("/sales/:id/check-in-times", lookers, async (request, reply) =>
    reply.page("check-in/list", await timesPage(request)),
  );

  app.get<WithSale>("/sales/:id/check-in-times/new", planners, async (request, reply) => {
    const sale = await saleOf(request, request.params.id);
    return newPage(request, reply, { day: sale.firstDay, each: "30", places: "4" });
  });

  app.post<WithSale>("/sales/:id/check-in-times", planners, async (request, reply) => {
    const sale = await saleOf(request, request.params.id);
    const read = readTimes(request.body as Fields, await guildOf(request));
    const planned = read.ok ? await planCheckInTimes(request.deed(), sale.id, read.value) : read;
    if (!planned.ok) return newPage(request, reply, request.body as object, planned.problem);
    const { length } = planned.value.ids;
    const text =
      length === 1 ? "1 check-in time is planned." : `${length} check-in times are planned.`;
    return reply.seeOther(pathOf(sale.id), { kind: "good", text });
  });
}

async function onePages(app: App): Promise<void> {
  app.get<WithTime>("/sales/:id/check-in-times/:timeId", planners, async (request, reply) =>
    timePage(request, reply),
  );

  app.post<WithTime>("/sales/:id/check-in-times/:timeId", planners, async (request, reply) => {
    const { sale, time, guild } = await timeOf(request);
    const read = readTimeChange(request.body as Fields, guild);
    const done = read.ok ? await changeCheckInTime(request.deed(), time.id, read.value) : read;
    if (!done.ok) return timePage(request, reply, done.problem);
    return reply.seeOther(pathOf(sale.id), { kind: "good", text: "The change is kept." });
  });

  app.post<WithTime>(
    "/sales/:id/check-in-times/:timeId/withdrawal",
    planners,
    async (request, reply) => {
      const { sale, time } = await timeOf(request);
      const given = { id: time.id, version: versionOf(request.body as Fields) };
      const done = await withdrawCheckInTime(request.deed(), given);
      if (!done.ok) return timePage(request, reply, done.problem);
      return reply.seeOther(pathOf(sale.id), { kind: "good", text: "The time is off the list." });
    },
  );
}

async function newPage(request: Request, reply: Reply, values: object, problem?: Problem) {
  const sale = await saleOf(request, (request.params as { id: string }).id);
  const data = { title: "Plan check-in times", sale, path: pathOf(sale.id), values, problem };
  return reply.page("check-in/new", data, problem?.status ?? 200);
}

/** The time an address names, of the sale that it names. */
async function timeOf(request: Request) {
  const { id, timeId } = request.params as WithTime["Params"];
  const sale = await saleOf(request, id);
  const guild = await guildOf(request);
  const time = await findCheckInTime(request.server.parts.db, wantId(timeId, "this time"));
  if (time?.saleId !== sale.id) throw notFound("this time");
  return { sale, guild, time };
}

async function timePage(request: Request, reply: Reply, problem?: Problem) {
  const { sale, guild, time } = await timeOf(request);
  const data = {
    title: `${dayTitle(time.startsAt, guild.locale, guild.timeZone)}, ${timesText(time, guild)}`,
    ...{ sale, time, problem, path: pathOf(sale.id) },
    mayChange: allows(sale.stage, "plan-check-in"),
    values: { ...valuesOf(time, guild.timeZone), ...(problem ? (request.body as object) : {}) },
  };
  return reply.page("check-in/time", data, problem?.status ?? 200);
}
