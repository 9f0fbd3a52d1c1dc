import { listShifts, type ShiftRead } from "../../database/shifts.ts";
import type { App } from "../../plugins/types.ts";
import { type CsvCell, csvText } from "../../rules/csv.ts";
import { plannedTime } from "../../rules/shifts/shift-time.ts";
import { localTimeOf } from "../../rules/zoned-time.ts";
import { lookers, shiftsOf, type WithSale } from "./scene.ts";

const head = [
  ...["Member number", "Member", "Day", "Start", "End", "Task", "Stand-in", "Planned minutes"],
  ...["Tick", "Minutes worked", "Ticked by", "Ticked at"],
];

/** All shifts of a sale as a table for a spreadsheet, on the guild's clock. */
export async function shiftCsv(app: App): Promise<void> {
  app.get<WithSale>("/sales/:id/shifts.csv", lookers, async (request, reply) => {
    const { sale, guild } = await shiftsOf(request);
    const { items } = await listShifts(app.parts.db, sale.id, { limit: 1_000_000 });
    return reply
      .type("text/csv; charset=utf-8")
      .header("content-disposition", 'attachment; filename="shifts.csv"')
      .send(csvText([head, ...items.map((shift) => cells(shift, guild.timeZone))]));
  });
}

function cells(shift: ShiftRead, timeZone: string): CsvCell[] {
  const startsAt = shift.startsAt.toISOString();
  const { day, start, end } = plannedTime({ startsAt, minutes: shift.minutes }, timeZone);
  const markedAt = shift.markedAt
    ? localTimeOf(shift.markedAt.toISOString(), timeZone).replace("T", " ")
    : "";
  return [
    ...[shift.memberNumber, shift.memberName, day, start, end, shift.task, shift.standIn],
    ...[shift.minutes, shift.mark ?? "", shift.minutesWorked, shift.markedBy, markedAt],
  ];
}
