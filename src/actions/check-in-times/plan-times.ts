import { v7 } from "uuid";
import type { CheckInTimeChange, CheckInTimesInput } from "../../contract/check-in-time.ts";
import type { Transaction } from "../../database/client.ts";
import { type Deed, perform } from "../../database/perform.ts";
import type { SaleRead } from "../../database/sales.ts";
import { cutTimes } from "../../rules/check-in/cut-times.ts";
import { ok, type Result, refuse, refuseField } from "../../rules/problem.ts";
import { allows } from "../../rules/sale-stage.ts";
import { isFarFrom } from "../../rules/shifts/shift-time.ts";
import { shareSale } from "../lock-rows.ts";
import { changedMeanwhile } from "../sale-lock.ts";

/** Plans times at which the desk takes pieces in: a span of a day, cut as the chair likes. */
export const planCheckInTimes = (
  deed: Deed,
  saleId: string,
  input: CheckInTimesInput,
): Promise<Result<{ ids: string[] }>> =>
  perform(deed, "plan-check-in-times", { saleId, input }, async (tx) => {
    const sale = await saleForTimes(tx, saleId);
    if (!sale.ok) return sale;
    const times = await timesOf(tx, sale.value, input);
    if (!times.ok) return times;
    const rows = times.value.map(({ startsAt, minutes }) => ({
      ...{ id: v7(), saleId, startsAt: new Date(startsAt), minutes, places: input.places },
      byId: deed.actor.id,
    }));
    await tx.checkInTime.createMany({ data: rows });
    const { day, start, end, places } = input;
    return ok({
      value: { ids: rows.map(({ id }) => id) },
      subjectId: saleId,
      detail: { day, start, end, times: rows.length, places },
    });
  });

type Changed = Promise<Result<{ id: string; version: number }>>;

/** Moves a time or gives it other places; members who picked it keep it and are written to anew. */
export const changeCheckInTime = (deed: Deed, id: string, change: CheckInTimeChange): Changed =>
  perform(deed, "change-check-in-time", { id, change }, async (tx) => {
    const open = await openTime(tx, id);
    if (!open.ok) return open;
    const { version, places, ...span } = change;
    const times = await timesOf(tx, open.value.sale, { ...span, each: null });
    if (!times.ok) return times;
    if (places < open.value.taken)
      return refuseField("places", `${open.value.taken} members have picked it already.`);
    const [time] = times.value;
    const changed = await tx.checkInTime.updateMany({
      where: { id, version, withdrawnAt: null },
      data: {
        ...{ startsAt: new Date(time!.startsAt), minutes: time!.minutes, places },
        version: { increment: 1 },
      },
    });
    if (changed.count === 0) return changedMeanwhile();
    const value = { id, version: version + 1 };
    return ok({ value, subjectId: open.value.sale.id, detail: { ...span, places } });
  });

/** Takes a time off the list while nobody has picked it. */
export const withdrawCheckInTime = (deed: Deed, given: { id: string; version: number }): Changed =>
  perform(deed, "withdraw-check-in-time", given, async (tx) => {
    const { id, version } = given;
    const open = await openTime(tx, id);
    if (!open.ok) return open;
    const { taken, sale } = open.value;
    if (taken > 0)
      return refuse(
        "still-open",
        `${taken === 1 ? "1 member has" : `${taken} members have`} picked this time. Move it to another hour instead: they keep it and get a letter, or ask them to pick another.`,
      );
    const changed = await tx.checkInTime.updateMany({
      where: { id, version, withdrawnAt: null },
      data: { withdrawnAt: new Date(), version: { increment: 1 } },
    });
    if (changed.count === 0) return changedMeanwhile();
    return ok({ value: { id, version: version + 1 }, subjectId: sale.id });
  });

async function timesOf(tx: Transaction, sale: SaleRead, span: Omit<CheckInTimesInput, "places">) {
  const { timeZone } = await tx.guild.findFirstOrThrow();
  if (isFarFrom(span.day, sale))
    return refuseField("day", `This day is far from ${sale.name}. Check the year.`);
  return cutTimes(span, timeZone);
}

async function saleForTimes(tx: Transaction, saleId: string): Promise<Result<SaleRead>> {
  const sale = await shareSale(tx, saleId);
  if (!sale.ok || allows(sale.value.stage, "plan-check-in")) return sale;
  return refuse("stage-closed", `${sale.value.name} is over. Its check-in times stay as they are.`);
}

const unknownTime = () =>
  refuse("not-found", "There is no such check-in time, or it was taken off the list.");

/** A time held so that nobody picks it meanwhile, with its sale and how many have it. */
async function openTime(tx: Transaction, id: string) {
  const time = await tx.checkInTime.findUnique({ where: { id }, select: { saleId: true } });
  if (!time) return unknownTime();
  const sale = await saleForTimes(tx, time.saleId);
  if (!sale.ok) return sale;
  const locked = await lockTime(tx, id);
  return locked ? ok({ sale: sale.value, ...locked }) : unknownTime();
}

/** Holds a time that stands; who counts its places after this counts right. */
export async function lockTime(tx: Transaction, id: string) {
  await tx.$queryRaw`SELECT 1 FROM check_in_time WHERE id = ${id}::uuid FOR NO KEY UPDATE`;
  const time = await tx.checkInTime.findFirst({ where: { id, withdrawnAt: null } });
  return time && { time, taken: await tx.checkInChoice.count({ where: { timeId: id } }) };
}
