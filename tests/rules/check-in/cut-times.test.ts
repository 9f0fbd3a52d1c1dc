import { expect, test } from "vitest";
import { cutTimes } from "../../../src/rules/check-in/cut-times.ts";

const span = { day: "2026-11-26", start: "09:00", end: "11:10", each: 30 };
const zone = "America/Chicago";

test("a span is cut into times of one length, and what is left over is left out", () => {
  const cut = cutTimes(span, zone);
  expect(cut).toEqual({
    ok: true,
    value: ["15:00", "15:30", "16:00", "16:30"].map((time) => ({
      startsAt: `2026-11-26T${time}:00.000Z`,
      minutes: 30,
    })),
  });
});

test("without a length it is one time", () => {
  const one = [{ startsAt: "2026-11-26T15:00:00.000Z", minutes: 130 }];
  expect(cutTimes({ ...span, each: null }, zone)).toEqual({ ok: true, value: one });
});

test("over the change of the clock each time really takes as long", () => {
  const night = { day: "2026-11-01", start: "00:30", end: "03:00", each: 60 };
  const cut = cutTimes(night, zone);
  expect(cut.ok && cut.value.map(({ startsAt }) => startsAt.slice(11, 16))).toEqual([
    "05:30",
    "06:30",
    "07:30",
  ]);
});

test.each([
  [{ each: 4 }, "each"],
  [{ each: 131 }, "each"],
  [{ end: "09:00" }, "end"],
  [{ end: "19:00", each: 5 }, "each"],
  [{ day: "2026-02-30" }, "start"],
])("%j is refused at the field %s", (more, field) => {
  expect(cutTimes({ ...span, ...more }, zone)).toMatchObject({ problem: { errors: [{ field }] } });
});
