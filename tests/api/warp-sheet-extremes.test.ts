import fc from "fast-check";
import { afterAll, beforeAll, expect, test } from "vitest";
import { addSheet } from "../../src/actions/warp-sheets.ts";
import { warpSheetShape } from "../../src/contract/warp-sheet.ts";
import { presetSheet } from "../../src/rules/weave/presets.ts";
import type { WarpSheet } from "../../src/rules/weave/sheet.ts";
import type { Client, TestApp } from "../support/app.ts";
import { type Member, startAtEntry } from "../support/at-entry.ts";
import { deedOf } from "../support/build.ts";

/** Figures at the very ends of what the shape takes: each sheet is refused in words or shown. */
let base: TestApp;
let member: Member;
let own: Client;

beforeAll(async () => {
  ({ base, member, own } = await startAtEntry());
});
afterAll(() => base.close());

const figure = fc.constantFrom(1, 2, 999, 1_000, 36_000, 9_999_999, 99_999_999);
const share = fc.constantFrom(0, 1, 10_000, 80_000);
const length = fc.record({
  thousandths: figure,
  unit: fc.constantFrom("in" as const, "yd" as const, "cm" as const),
});
const weight = fc.record({
  thousandths: figure,
  unit: fc.constantFrom("oz" as const, "g" as const, "kg" as const),
});
const density = fc.record({
  thousandths: figure,
  unit: fc.constantFrom("per-in" as const, "per-cm" as const),
});

const extreme = fc
  .record({
    ...{ sett: density, width: length, picks: density, long: length, hems: length, have: weight },
    ...{ soldBy: weight, per: weight, takeUp: share, shrinkage: share, haveWarp: length },
    measured: fc.constantFrom("loom" as const, "finished" as const),
    system: fc.constantFrom("cotton" as const, "denier" as const, "tex" as const),
    ...{ number: figure, amount: fc.constantFrom(0, 1, 1_000_000_000) },
  })
  .map((odd): WarpSheet => {
    const { sheet } = presetSheet("towels", "inch");
    const [yarn] = sheet.yarns;
    const [run] = sheet.runs;
    const { sett, width, takeUp, shrinkage, haveWarp, have, soldBy } = odd;
    const number = { system: odd.system, thousandths: odd.number, plies: 99 };
    const price = { amount: odd.amount, per: odd.per };
    return {
      ...{ ...sheet, sett, width, takeUp, shrinkage, haveWarp },
      yarns: [{ ...yarn!, number, price, have, soldBy }],
      runs: [
        {
          ...{ ...run!, hems: odd.hems, length: { ...odd.long, measured: odd.measured } },
          wefts: [{ by: "picks", yarn: 0, picks: odd.picks, extra: 100_000 }],
        },
      ],
    };
  });

test("whatever the figures, the answer is a result or a refusal", {
  timeout: 240_000,
}, async () => {
  const seen = new Set<number>();
  for (const sheet of fc.sample(extreme, { seed: 2_026, numRuns: 60 })) {
    expect(warpSheetShape.safeParse(sheet).success).toBe(true);
    const { status } = await own.post("/api/warp-sheet/outcome", sheet);
    seen.add(status);
    if (status !== 200) continue;
    const kept = await addSheet(deedOf(base.db, member), { name: "Odd", sheet }, new Date());
    if (!kept.ok) throw new Error("what can be worked out can be kept");
    const path = `/bench/sheets/${kept.value.id}`;
    for (const part of ["", "?units=metric", "/change?units=metric", "/enter"])
      expect({ part, status: (await own.visit(path + part)).status }).toEqual({
        part,
        status: 200,
      });
  }
  expect([...seen].sort()).toEqual([200, 400]);
});
