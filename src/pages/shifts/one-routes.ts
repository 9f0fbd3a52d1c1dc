import { changeShift, withdrawShift } from "../../actions/shifts/change-shift.ts";
import { tickShift } from "../../actions/shifts/tick-shift.ts";
import { findShift } from "../../database/shifts.ts";
import { notFound } from "../../plugins/errors.ts";
import type { App, Reply, Request } from "../../plugins/types.ts";
import type { Problem } from "../../rules/problem.ts";
import { allows } from "../../rules/sale-stage.ts";
import { dayTitle, hoursText, lengthText } from "../../rules/shifts/shift-words.ts";
import { whenText } from "../format.ts";
import type { Fields } from "../items/fields.ts";
import { wantId } from "../want-id.ts";
import { readShift, readTick, valuesOf, versionOf } from "./form.ts";
import { markText, shiftList, timesOf, whatText } from "./list-page.ts";
import {
  keepers,
  type ListQuery,
  lookers,
  mayKeep,
  queryText,
  shiftsOf,
  type WithShift,
} from "./scene.ts";

/** One shift: its tick with the time really worked, its plan, and taking it off the list. */
export async function oneShiftPages(app: App): Promise<void> {
  app.get<WithShift>("/sales/:id/shifts/:shiftId", lookers, async (request, reply) =>
    shiftPage(request, reply),
  );

  app.post<WithShift>("/sales/:id/shifts/:shiftId", keepers, async (request, reply) => {
    const { shift, guild, path } = await shiftOf(request);
    const fields = request.body as Fields;
    const read = readShift(fields, guild);
    const change = { version: versionOf(fields) };
    const done = read.ok
      ? await changeShift(request.deed(), shift.id, { ...read.value, ...change })
      : read;
    if (!done.ok) return shiftPage(request, reply, done.problem);
    const notice = { kind: "good" as const, text: "The change is kept." };
    return reply.seeOther(`${path}/${shift.id}`, notice);
  });

  app.post<WithShift>("/sales/:id/shifts/:shiftId/tick", keepers, async (request, reply) => {
    const { shift, path } = await shiftOf(request);
    const query = request.query as ListQuery;
    const read = readTick(request.body as Fields);
    const given = read.ok ? { shiftId: shift.id, ...read.value } : undefined;
    const done = given ? await tickShift(request.deed(), given, app.now()) : read;
    if (!done.ok)
      return query.show
        ? shiftList(request, reply, done.problem)
        : shiftPage(request, reply, done.problem);
    const notice = { kind: "good" as const, text: await tickedWords(request) };
    return reply.seeOther(`${path}${queryText(query)}#s-${shift.id}`, notice);
  });

  app.post<WithShift>("/sales/:id/shifts/:shiftId/withdrawal", keepers, async (request, reply) => {
    const { shift, path } = await shiftOf(request);
    const given = { shiftId: shift.id, version: versionOf(request.body as Fields) };
    const done = await withdrawShift(request.deed(), given);
    if (!done.ok) return shiftPage(request, reply, done.problem);
    const text = `The shift of ${shift.memberName} is off the list.`;
    return reply.seeOther(path, { kind: "good", text });
  });
}

/** The shift an address names, of the sale that it names. */
async function shiftOf(request: Request) {
  const scene = await shiftsOf(request);
  const id = wantId((request.params as { shiftId: string }).shiftId, "this shift");
  const shift = await findShift(request.server.parts.db, id);
  if (shift?.saleId !== scene.sale.id) throw notFound("this shift");
  return { ...scene, shift };
}

async function tickedWords(request: Request): Promise<string> {
  const { shift } = await shiftOf(request);
  return `${shift.memberNumber} ${shift.memberName}: ${markText(shift).toLowerCase()}.`;
}

async function shiftPage(request: Request, reply: Reply, problem?: Problem) {
  const { sale, guild, path, shift } = await shiftOf(request);
  const may = mayKeep(request) && allows(sale.stage, "keep-shifts");
  const typed = problem ? (request.body as Record<string, unknown>) : {};
  const data = {
    title: `${shift.memberNumber} ${shift.memberName}`,
    ...{ sale, shift, path },
    ticked: shift.mark !== null,
    mayTick: may,
    mayChange: may && shift.mark === null,
    facts: [
      { label: "When", value: dayTitle(shift.startsAt, guild.locale, guild.timeZone) },
      { label: "Hours", value: `${timesOf(shift, guild)} (${hoursText(shift.minutes)})` },
      { label: "Task", value: whatText(shift) },
      { label: "Ticked", value: markText(shift) },
      ...(shift.markedAt
        ? [{ label: "By", value: `${shift.markedBy}, ${whenText(shift.markedAt, guild)}` }]
        : []),
    ],
    values: {
      ...valuesOf(shift, guild.timeZone),
      worked: lengthText(shift.minutesWorked ?? shift.minutes),
      ...typed,
    },
    problem,
  };
  return reply.page("shifts/shift", data, problem?.status ?? 200);
}
