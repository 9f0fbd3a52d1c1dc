import { v7 } from "uuid";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { type EnterFromSheet, enterFromSheet } from "../../src/actions/enter-from-sheet.ts";
import { addSheet } from "../../src/actions/warp-sheets.ts";
import { enterRowShape } from "../../src/contract/warp-sheet.ts";
import { presetSheet } from "../../src/rules/weave/presets.ts";
import type { WarpSheet } from "../../src/rules/weave/sheet.ts";
import { buildGuild, buildMember, buildSale, deedOf } from "../support/build.ts";
import { early } from "../support/build-items.ts";
import {
  buildRun,
  buildSheet,
  buildWeft,
  buildYarn,
  pricedByPound,
  pure,
} from "../support/build-sheet.ts";
import { freshDatabase, type TestDatabase } from "../support/database.ts";

let base: TestDatabase;
let sale: { id: string };
type Member = Awaited<ReturnType<typeof buildMember>>;

beforeAll(async () => {
  base = await freshDatabase();
  await buildGuild(base.db);
  sale = await buildSale(base.db);
});
afterAll(() => base.drop());

async function sheetOf(member: Member, sheet: WarpSheet = presetSheet("towels", "inch").sheet) {
  const kept = await addSheet(deedOf(base.db, member), { name: "Warp", sheet }, early);
  if (!kept.ok) throw new Error(JSON.stringify(kept.problem));
  return kept.value.id;
}

const row = (more: object = {}) =>
  enterRowShape.parse({
    ...{ run: 0, count: 4, kind: "towel", description: "Plain towel", price: 2_800 },
    ...more,
  });

const given = (sheetId: string, rows = [row()], more: Partial<EnterFromSheet> = {}) => ({
  ...{ sheetId, saleId: sale.id, version: 1, rows, agreementVersion: 1 },
  ...more,
});

const enter = (member: Member, what: EnterFromSheet, key?: string) =>
  enterFromSheet(deedOf(base.db, member, key), what, early);

const itemsOf = (member: Member) =>
  base.db.item.findMany({
    where: { memberId: member.id },
    include: { making: true },
    orderBy: { number: "asc" },
  });

const codeOf = (done: { ok: boolean; problem?: { code: string } }) =>
  done.ok ? "ok" : done.problem?.code;

describe("from a sheet to items", () => {
  test("each piece has its tag, its fibres and what it took", async () => {
    const member = await buildMember(base.db);
    const sheetId = await sheetOf(member);
    const done = await enter(member, given(sheetId));
    expect(done.ok && done.value.map(({ number }) => number)).toEqual([1, 2, 3, 4]);
    const items = await itemsOf(member);
    expect(items).toHaveLength(4);
    for (const item of items) {
      expect(item).toMatchObject({ description: "Plain towel", price: 2_800n, quantity: 1 });
      expect(item.fibres).toEqual([]);
      // 480 minutes of set-up over 7 towels, an hour to weave and 20 minutes to finish.
      expect(item.making).toMatchObject({ warpSheetId: sheetId, minutes: 149, materials: null });
    }
  });

  test("two wefts on one warp: materials and shares are those of the sheet", async () => {
    const member = await buildMember(base.db);
    const yarns = [
      buildYarn(3_360, pure("cotton"), pricedByPound(2_200)),
      buildYarn(2_400, pure("linen"), pricedByPound(4_000)),
    ];
    const sheet = buildSheet({
      yarns,
      setUp: 100,
      runs: [
        buildRun(1, { loom: 36 }, [buildWeft(0, 20, 5)], { weaving: 30 }),
        buildRun(1, { loom: 36 }, [buildWeft(1, 18, 5)], { finishing: 45 }),
      ],
    });
    const sheetId = await sheetOf(member, sheet);
    const rows = [row({ count: 1 }), row({ run: 1, count: 1, tagging: "alike" })];
    expect(codeOf(await enter(member, given(sheetId, rows)))).toBe("ok");
    const [plain, linen] = await itemsOf(member);
    // Warp 440 yd and weft 462 yd of 8/2 at 22.00 a pound; warp 440 yd, weft 415.8 yd of linen at 40.00.
    expect(plain?.making).toMatchObject({ minutes: 80, materials: 591n });
    expect(linen?.making).toMatchObject({ minutes: 95, materials: 981n });
    expect(linen?.labelDetails).toMatchObject({
      yarns: [
        { place: "warp", blend: pure("cotton") },
        { place: "weft", blend: pure("linen") },
      ],
    });
  });

  test("alike under one tag, or as one set with the hours of all its pieces", async () => {
    const member = await buildMember(base.db);
    const sheetId = await sheetOf(member);
    const rows = [row({ tagging: "alike", count: 3 }), row({ tagging: "set", count: 4 })];
    expect(codeOf(await enter(member, given(sheetId, rows)))).toBe("ok");
    const [alike, set] = await itemsOf(member);
    expect(alike).toMatchObject({ quantity: 3, piecesInSet: 1, making: { minutes: 149 } });
    expect(set).toMatchObject({ quantity: 1, piecesInSet: 4, making: { minutes: 594 } });
  });

  test("two at once and one sent twice: every tag once", async () => {
    const member = await buildMember(base.db);
    const sheetId = await sheetOf(member);
    const all = await Promise.all([
      enter(member, given(sheetId)),
      enter(member, given(sheetId)),
      enter(member, given(sheetId), "twice"),
      enter(member, given(sheetId), "twice"),
    ]);
    expect(all.map(codeOf)).toEqual(["ok", "ok", "ok", "ok"]);
    expect(all[2]).toEqual(all[3]);
    const numbers = (await itemsOf(member)).map(({ number }) => number);
    expect(numbers).toEqual(Array.from({ length: 12 }, (_, index) => index + 1));
  });
});

describe("refused, and nothing entered", () => {
  test.each<[string, Partial<EnterFromSheet>, string, string[]]>([
    ["an old version", { version: 2 }, "changed-meanwhile", []],
    ["an unknown run", { rows: [row({ run: 3 })] }, "invalid-input", ["rows.0.run"]],
    ["no agreement", { agreementVersion: undefined }, "invalid-input", ["agreementVersion"]],
    [
      "a price off the steps",
      { rows: [row(), row({ price: 2_850 })] },
      "invalid-input",
      ["rows.1.price"],
    ],
    ["an unknown sale", { saleId: v7() }, "not-found", []],
    ["an unknown sheet", { sheetId: v7() }, "not-found", []],
  ])("%s", async (_words, more, code, fields) => {
    const member = await buildMember(base.db);
    const sheetId = await sheetOf(member);
    const done = await enter(member, given(sheetId, [row()], more));
    expect(codeOf(done)).toBe(code);
    const named = done.ok ? [] : done.problem.errors.map(({ field }) => field);
    expect([...new Set(named)]).toEqual(fields);
    expect(await itemsOf(member)).toEqual([]);
  });

  test("another member's sheet is not there, not even for the desk", async () => {
    const member = await buildMember(base.db);
    const desk = await buildMember(base.db, ["member", "desk", "chair"]);
    const sheetId = await sheetOf(member);
    expect(codeOf(await enter(desk, given(sheetId)))).toBe("not-found");
    expect(await itemsOf(desk)).toEqual([]);
  });

  test("hours beyond what is kept are told in words", async () => {
    const member = await buildMember(base.db);
    const run = buildRun(99, { loom: 3 }, [buildWeft(0, 20, 0)], { weaving: 36_000 });
    const sheetId = await sheetOf(member, buildSheet({ runs: [run] }));
    const done = await enter(member, given(sheetId, [row({ count: 99, tagging: "set" })]));
    expect(codeOf(done)).toBe("invalid-input");
    expect(await itemsOf(member)).toEqual([]);
  });
});
