import { listShifts, type ShiftRead, shiftCounts } from "../../database/shifts.ts";
import type { Reply, Request } from "../../plugins/types.ts";
import { dayIn } from "../../rules/day.ts";
import type { Problem } from "../../rules/problem.ts";
import { allows } from "../../rules/sale-stage.ts";
import { dayTitle, hoursText, timesText } from "../../rules/shifts/shift-words.ts";
import { instantOf } from "../../rules/zoned-time.ts";
import { type Region, whenText } from "../format.ts";
import { cursorOf, nextHref, searchOf } from "../want-id.ts";
import { type Choice, choices, type ListQuery, mayKeep, queryText, shiftsOf } from "./scene.ts";

const pageLength = 40;

/** The shifts of a sale under their days; today's first, since those are ticked in the hall. */
export async function shiftList(request: Request, reply: Reply, problem?: Problem) {
  const { db } = request.server.parts;
  const { sale, guild, path } = await shiftsOf(request);
  const query = request.query as ListQuery;
  const q = searchOf(query.q);
  const after = cursorOf(query.after);
  const today = dayBounds(request.server.now(), guild.timeZone);
  const show = await choiceOf(request, query, q, today);
  const search = { q, after, limit: pageLength, open: show === "open" };
  const between = show === "today" ? { between: today } : {};
  const { items, next } = await listShifts(db, sale.id, { ...search, ...between });
  const counts = await shiftCounts(db, sale.id);
  const data = {
    title: `Shifts at ${sale.name}`,
    sale,
    path,
    q,
    show,
    ...{ mayPlan: mayKeep(request) && allows(sale.stage, "keep-shifts"), any: counts.all > 0 },
    counts: { ...counts, worked: hoursText(counts.minutesWorked) },
    filters: filters(path, show),
    days: days(items, guild, `${path}/`, queryText({ show, q, ...(after ? { after } : {}) })),
    next: nextHref(path, next, { show, q }),
    problem,
  };
  return reply.page("shifts/list", data, problem?.status ?? 200);
}

function dayBounds(now: Date, timeZone: string) {
  const day = dayIn(now, timeZone);
  const tomorrow = new Date(Date.parse(`${day}T00:00:00Z`) + 86_400_000).toISOString();
  const [from, until] = [day, tomorrow.slice(0, 10)].map((one) =>
    instantOf(`${one}T00:00`, timeZone),
  );
  if (!from || !until) throw new Error(`The day ${day} has no bounds in ${timeZone}.`);
  return { from, until };
}

/** Without a wish: today's, as long as there are any. A search looks through all. */
async function choiceOf(
  request: Request,
  { show }: ListQuery,
  q: string,
  between: { from: string; until: string },
): Promise<Choice> {
  const wished = choices.find((choice) => choice === show);
  if (wished || q) return wished ?? "all";
  const { id } = request.params as { id: string };
  const { items } = await listShifts(request.server.parts.db, id, { between, limit: 1 });
  return items.length > 0 ? "today" : "all";
}

const filters = (path: string, show: Choice) =>
  [
    { code: "today", label: "Today" },
    { code: "open", label: "Not ticked yet" },
    { code: "all", label: "All" },
  ].map(({ code, label }) => ({ href: `${path}?show=${code}`, label, current: code === show }));

function days(items: readonly ShiftRead[], region: Region, path: string, query: string) {
  const grouped = new Map<string, object[]>();
  for (const shift of items) {
    const title = dayTitle(shift.startsAt, region.locale, region.timeZone);
    grouped.set(title, [...(grouped.get(title) ?? []), row(shift, region, path, query)]);
  }
  return [...grouped].map(([title, shifts]) => ({ title, shifts }));
}

const row = (shift: ShiftRead, region: Region, path: string, query: string) => ({
  id: shift.id,
  href: `${path}${shift.id}`,
  tickHref: `${path}${shift.id}/tick${query}`,
  who: `${shift.memberNumber} ${shift.memberName}`,
  what: whatText(shift),
  times: timesOf(shift, region),
  planned: hoursText(shift.minutes),
  minutes: shift.minutes,
  version: shift.version,
  mark: shift.mark,
  markText: markText(shift),
  markedText: shift.markedAt
    ? `${shift.markedBy || "Somebody"}, ${whenText(shift.markedAt, region)}`
    : "",
});

export const timesOf = (shift: Pick<ShiftRead, "startsAt" | "minutes">, region: Region): string =>
  timesText(
    { startsAt: shift.startsAt.toISOString(), minutes: shift.minutes },
    region.locale,
    region.timeZone,
  );

export const whatText = ({ task, standIn }: Pick<ShiftRead, "task" | "standIn">): string =>
  standIn ? `${task}, ${standIn} stands in` : task;

/** "Worked 2 h 30 min", "Missed" or "Not ticked yet". */
export function markText({ mark, minutesWorked }: Pick<ShiftRead, "mark" | "minutesWorked">) {
  if (mark === "missed") return "Missed";
  return mark === "worked" ? `Worked ${hoursText(minutesWorked ?? 0)}` : "Not ticked yet";
}
