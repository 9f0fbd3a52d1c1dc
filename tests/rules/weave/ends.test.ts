import { expect, test } from "vitest";
import { endsOf } from "../../../src/rules/weave/lengths.ts";
import { buildSheet, inches, measure } from "../../support/build-sheet.ts";

const ends = (more: Parameters<typeof buildSheet>[0]) =>
  endsOf(buildSheet(more)).map((stripe) => stripe.ends);

test("ends are sett times width in the reed, to the nearest whole one", () => {
  expect(ends({})).toEqual([440]);
  expect(ends({ sett: measure(20.5, "per-in"), width: inches(10.2) })).toEqual([209]);
  // 24 ends in an inch are 9.449 in a centimetre; 50 cm of them.
  expect(ends({ sett: measure(9.449, "per-cm"), width: measure(50, "cm") })).toEqual([472]);
});

test("floating selvedges are two more ends of the yarn that takes the rest", () => {
  const warp = [
    { yarn: 0, ends: 40 },
    { yarn: 0, ends: null },
  ];
  expect(ends({ warp, floatingSelvedges: true })).toEqual([40, 402]);
  expect(ends({ warp: [{ yarn: 0, ends: 40 }], floatingSelvedges: true })).toEqual([42]);
});
