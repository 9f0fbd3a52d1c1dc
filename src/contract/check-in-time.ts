import * as z from "zod";
import { versionNumber } from "./version.ts";

const time = (wanted: string) => z.string(wanted).regex(/^([01]\d|2[0-3]):[0-5]\d$/, wanted);

const span = {
  day: z.iso.date("Give the day, such as 2026-11-26"),
  start: time("Give the start like 09:00"),
  end: time("Give the end like 12:30"),
};

const places = z
  .int("Give how many members can come at each time")
  .min(1, "At least one member")
  .max(500, "At most 500 members");

/** A span of a day, cut into times of `each` minutes; null for one time. */
export const checkInTimesShape = z.strictObject({
  ...span,
  each: z
    .int("Give the minutes as a whole number, or leave it empty for one time")
    .min(5, "A check-in time takes 5 minutes at least")
    .max(960, "That is longer than a day's work")
    .nullable()
    .default(null),
  places,
});

export type CheckInTimesInput = z.output<typeof checkInTimesShape>;

export const checkInTimeChange = z.strictObject({ ...span, places, version: versionNumber });

export type CheckInTimeChange = z.output<typeof checkInTimeChange>;

export const checkInTimeVersion = z.strictObject({ version: versionNumber });

export const pickShape = z.strictObject({
  timeId: z.uuid("Pick one of the times").nullable(),
});

const count = z.int();

export const checkInTimeShown = z.object({
  id: z.uuid(),
  saleId: z.uuid(),
  startsAt: z.string(),
  minutes: count,
  places: count,
  taken: count,
  /** Whether it is the one that the person who asks has picked. */
  mine: z.boolean(),
  version: count,
});

/** As the desk sees it: who comes when. */
export const checkInListed = checkInTimeShown.omit({ mine: true }).extend({
  members: z.array(z.object({ number: count, name: z.string(), pieces: count })),
});
