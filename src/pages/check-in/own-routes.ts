import { pickCheckInTime } from "../../actions/check-in-times/pick-time.ts";
import { pickShape } from "../../contract/check-in-time.ts";
import { listCheckInTimes, pickedTime } from "../../database/check-in-times.ts";
import type { SaleRead } from "../../database/sales.ts";
import type { App, Reply, Request } from "../../plugins/types.ts";
import type { Problem } from "../../rules/problem.ts";
import { allows } from "../../rules/sale-stage.ts";
import { dayTitle } from "../../rules/shifts/shift-words.ts";
import { type Fields, textOf } from "../items/fields.ts";
import { chosenSale } from "../items/scene.ts";
import { readForm } from "../read-form.ts";
import { guildOf } from "../sales/sale-of.ts";
import { cursorOf, nextHref } from "../want-id.ts";
import { placesText, timesText, underDays } from "./list-page.ts";

const pageLength = 60;

/** A member's own check-in time: the one picked, and those that can be. */
export async function ownTimePages(app: App): Promise<void> {
  const mine = { config: { access: "signed-in" as const } };

  app.get("/items/check-in", mine, async (request, reply) => {
    const sale = await chosenSale(request, textOf(request.query as Fields, "sale"));
    if (!sale) return reply.page("items/no-sale", { title: "My check-in time" });
    return ownPage(request, reply, sale);
  });

  app.post("/items/check-in", mine, async (request, reply) => {
    const { sale: saleId, timeId, ...fields } = request.body as Record<string, unknown>;
    const sale = await chosenSale(request, typeof saleId === "string" ? saleId : "");
    if (!sale) return reply.page("items/no-sale", { title: "My check-in time" });
    const read = readForm(pickShape, { ...fields, timeId: timeId === "none" ? null : timeId });
    const picked = read.ok
      ? await pickCheckInTime(request.deed(), { saleId: sale.id, ...read.value }, app.now())
      : read;
    if (!picked.ok) return ownPage(request, reply, sale, picked.problem);
    const text =
      picked.value.timeId === null
        ? "You have no check-in time now. The place is free for somebody else."
        : "The time is yours. The desk expects you.";
    return reply.seeOther(`/items/check-in?sale=${sale.id}`, { kind: "good", text });
  });
}

async function ownPage(request: Request, reply: Reply, sale: SaleRead, problem?: Problem) {
  const { db } = request.server.parts;
  const memberId = request.who().id;
  const guild = await guildOf(request);
  const now = request.server.now();
  const after = cursorOf((request.query as Fields).after);
  const search = { memberId, from: now, after, limit: pageLength };
  const { items, next } = await listCheckInTimes(db, sale.id, search);
  const picked = await pickedTime(db, { saleId: sale.id, memberId });
  const mayPick = allows(sale.stage, "pick-check-in");
  const rows = items.map((time) => ({
    ...time,
    times: timesText(time, guild),
    placesText: time.mine ? "Yours now" : placesText(time),
    full: !time.mine && time.taken >= time.places,
  }));
  const data = {
    ...{ title: "My check-in time", sale, problem, mayPick },
    picked: picked && {
      day: dayTitle(picked.startsAt, guild.locale, guild.timeZone),
      times: timesText(picked, guild),
      // A time that has begun is no longer given up.
      mayGiveUp: mayPick && picked.startsAt > now,
    },
    days: underDays(rows, guild),
    next: nextHref("/items/check-in", next, { sale: sale.id }),
  };
  return reply.page("check-in/own", data, problem?.status ?? 200);
}
