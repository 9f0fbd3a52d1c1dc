import { afterAll, beforeAll, beforeEach, describe, expect, test } from "vitest";
import { acceptAgreement } from "../../src/actions/accept-agreement.ts";
import { addSale } from "../../src/actions/add-sale.ts";
import { editSale } from "../../src/actions/edit-sale.ts";
import { moveSale } from "../../src/actions/move-sale.ts";
import { addTill, renameTill } from "../../src/actions/tills.ts";
import { writeAgreement } from "../../src/actions/write-agreement.ts";
import { saleShape } from "../../src/contract/sale.ts";
import { findSale } from "../../src/database/sales.ts";
import { noTax } from "../../src/rules/tax/tax-rules.ts";
import { buildGuild, buildMember, buildSale, deedOf } from "../support/build.ts";
import { freshDatabase, type TestDatabase } from "../support/database.ts";

let base: TestDatabase;
let chair: Awaited<ReturnType<typeof buildMember>>;
let sale: Awaited<ReturnType<typeof buildSale>>;
const as = (key?: string) => deedOf(base.db, chair, key);
const unknownId = "01900000-0000-7000-8000-000000000000";

type Answer = { ok: boolean; problem?: { code: string; errors: { field: string }[] } };
const code = (result: Answer) => result.problem?.code;
const fields = (result: Answer) => result.problem?.errors.map(({ field }) => field);

beforeAll(async () => {
  base = await freshDatabase();
  await buildGuild(base.db);
  chair = await buildMember(base.db, ["chair", "member"]);
});
beforeEach(async () => {
  sale = await buildSale(base.db, { stage: "planning" });
});
afterAll(() => base.drop());

const plan = (more: object = {}) =>
  saleShape.parse({
    name: "Spring sale",
    firstDay: "2027-05-14",
    lastDay: "2027-05-15",
    entryDeadline: "2027-05-01T23:59:00-05:00",
    guildRate: 25_000,
    agreement: "I wove this myself.",
    ...more,
  });

describe("planning a sale", () => {
  test("what was given is what is read back", async () => {
    const kind = await base.db.kind.findFirstOrThrow();
    const kindLimits = [{ kindId: kind.id, most: 5 }];
    const made = await addSale(as(), plan({ kindLimits, priceStep: 50, itemLimit: 40 }));
    const read = made.ok ? await findSale(base.db, made.value.id) : null;
    expect(read).toMatchObject({
      firstDay: "2027-05-14",
      entryDeadline: "2027-05-02T04:59:00.000Z",
      guildRate: 25_000,
      priceStep: 50,
      itemLimit: 40,
      kindLimits,
      stage: "planning",
      agreementVersion: 1,
    });
  });

  test("the same form twice at once plans one sale", async () => {
    const before = await base.db.sale.count();
    const [one, two] = await Promise.all([addSale(as("k1"), plan()), addSale(as("k1"), plan())]);
    expect(one).toEqual(two);
    expect(await base.db.sale.count()).toBe(before + 1);
  });

  test("wrong dates and unknown kinds name their fields and keep nothing", async () => {
    const before = await base.db.sale.count();
    expect(fields(await addSale(as(), plan({ lastDay: "2027-05-13" })))).toEqual(["lastDay"]);
    const kindLimits = [{ kindId: unknownId, most: 5 }];
    expect(fields(await addSale(as(), plan({ kindLimits })))).toEqual(["kindLimits"]);
    expect(await base.db.sale.count()).toBe(before);
  });

  test.each([
    ["guildRate", 100_001],
    ["guildRate", 12.5],
    ["tax", { ...noTax, components: [{ code: "t", name: "T", rate: -1, rules: [] }] }],
    ["cashStep", 3],
    ["markdownRate", 90_001],
    ["markdownFrom", "2027-05-01"],
    ["priceStep", 0],
    ["priceFloor", 1.5],
    ["itemLimit", 0],
    ["firstDay", "2027-02-30"],
    ["entryDeadline", "2027-05-01"],
    ["name", ""],
    ["name", "x".repeat(61)],
    ["agreement", "  "],
    ["place", "a\u0000b"],
  ])("%s cannot be %j", (field, wrong) => {
    const good = { ...plan(), [field]: wrong };
    const read = saleShape.safeParse(good);
    expect(read.success ? [] : read.error.issues.map((issue) => issue.path[0])).toEqual([field]);
  });
});

describe("changing a sale", () => {
  test("rates stay once selling has begun; other fields and unchanged rates pass", async () => {
    await base.db.sale.update({ where: { id: sale.id }, data: { stage: "selling" } });
    const refused = await editSale(as(), sale.id, { version: 1, priceFloor: 1, priceStep: 7 });
    expect(code(refused)).toBe("stage-closed");
    expect(fields(refused)).toEqual(["priceStep", "priceFloor"]);
    const passed = await editSale(as(), sale.id, { version: 1, priceFloor: 500, place: "Barn" });
    expect(passed).toEqual({ ok: true, value: { id: sale.id, version: 2 } });
  });

  test("a closed sale stays as it is", async () => {
    await base.db.sale.update({ where: { id: sale.id }, data: { stage: "closed" } });
    expect(code(await editSale(as(), sale.id, { version: 1, place: "Barn" }))).toBe("stage-closed");
  });

  test("of two who saw the same state, one wins", async () => {
    const both = await Promise.all([
      editSale(as(), sale.id, { version: 1, place: "Barn" }),
      editSale(as(), sale.id, { version: 1, place: "Church" }),
    ]);
    expect(both.map(code).sort()).toEqual(["changed-meanwhile", undefined]);
  });

  test("one changed day is judged together with those that stand", async () => {
    expect(fields(await editSale(as(), sale.id, { version: 1, lastDay: "2026-11-01" }))).toEqual([
      "lastDay",
    ]);
  });
});

describe("moving a sale", () => {
  const move = (to: Parameters<typeof moveSale>[2]["to"], version: number, reason = "") =>
    moveSale(as(), sale.id, { to, reason, version });

  test("through every stage and one back, each step with who and why", async () => {
    await addTill(as(), sale.id, { name: "Front door" });
    await move("entries-open", 1);
    await move("entries-closed", 2);
    await move("entries-open", 3, "A late bus");
    await move("entries-closed", 4);
    await move("selling", 5);
    await move("settling", 6);
    expect(await move("closed", 7)).toEqual({ ok: true, value: { stage: "closed", version: 8 } });
    const steps = await base.db.stageChange.findMany({ where: { saleId: sale.id } });
    expect(steps).toHaveLength(7);
    expect(steps[2]).toMatchObject({
      fromStage: "entries-closed",
      toStage: "entries-open",
      reason: "A late bus",
      byId: chair.id,
    });
  });

  test("two who press the same step at once take one step", async () => {
    const both = await Promise.all([move("entries-open", 1), move("entries-open", 1)]);
    expect(both.map(code).sort()).toEqual(["changed-meanwhile", undefined]);
    expect(await base.db.stageChange.count({ where: { saleId: sale.id } })).toBe(1);
  });

  test("an open till holds the sale at selling, and no till keeps it from selling", async () => {
    await base.db.sale.update({ where: { id: sale.id }, data: { stage: "entries-closed" } });
    expect(code(await move("selling", 1))).toBe("still-open");
    const till = await addTill(as(), sale.id, { name: "Front door" });
    expect(code(await move("selling", 1))).toBe(undefined);
    const tillId = till.ok ? till.value.id : "";
    await base.db.tillSession.create({ data: { tillId, float: 0n, openedById: chair.id } });
    expect(code(await move("settling", 2))).toBe("still-open");
    expect(code(await move("entries-closed", 2, "too early"))).toBe("still-open");
  });

  test("an unknown sale is not found", async () => {
    const moved = await moveSale(as(), unknownId, { to: "closed", reason: "", version: 1 });
    expect(code(moved)).toBe("not-found");
  });
});

describe("tills", () => {
  test("ten at once are numbered 1 to 10", async () => {
    const names = Array.from({ length: 10 }, (_, index) => `Till ${index}`);
    await Promise.all(names.map((name) => addTill(as(), sale.id, { name })));
    const tills = await base.db.till.findMany({
      where: { saleId: sale.id },
      orderBy: { number: "asc" },
    });
    expect(tills.map(({ number }) => number)).toEqual([1, 2, 3, 4, 5, 6, 7, 8, 9, 10]);
  });

  test("a till is renamed within its own sale only, and none is added after selling", async () => {
    const till = await addTill(as(), sale.id, { name: "Front" });
    const tillId = till.ok ? till.value.id : "";
    expect((await renameTill(as(), { saleId: sale.id, tillId, name: "Back" })).ok).toBe(true);
    const foreign = await buildSale(base.db);
    const wrong = await renameTill(as(), { saleId: foreign.id, tillId, name: "Mine" });
    expect(code(wrong)).toBe("not-found");
    await base.db.sale.update({ where: { id: sale.id }, data: { stage: "settling" } });
    expect(code(await addTill(as(), sale.id, { name: "Late" }))).toBe("stage-closed");
  });
});

describe("the agreement", () => {
  test("a new wording is a new version; who accepted the old one did so for ever", async () => {
    const first = await acceptAgreement(as(), sale.id, 1);
    await writeAgreement(as(), sale.id, { text: "I also price it myself.", replaces: 1 });
    expect(code(await acceptAgreement(as(), sale.id, 1))).toBe("changed-meanwhile");
    expect((await acceptAgreement(as(), sale.id, 2)).ok).toBe(true);
    const rows = await base.db.acceptance.findMany({ where: { saleId: sale.id } });
    expect(rows.map(({ version }) => version).sort()).toEqual([1, 2]);
    expect(first.ok && first.value.acceptedAt).toBe(rows[0]?.at.toISOString());
  });

  test("accepting twice at once is one acceptance with one time", async () => {
    const both = await Promise.all([1, 2].map(() => acceptAgreement(as(), sale.id, 1)));
    expect(both[0]).toEqual(both[1]);
    expect(await base.db.acceptance.count({ where: { saleId: sale.id } })).toBe(1);
  });

  test("two new wordings at once: one stands, the other is told so", async () => {
    const both = await Promise.all(
      ["One.", "Two."].map((text) => writeAgreement(as(), sale.id, { text, replaces: 1 })),
    );
    expect(both.map(code).sort()).toEqual(["changed-meanwhile", undefined]);
    expect(await base.db.agreement.count({ where: { saleId: sale.id } })).toBe(2);
  });

  test("the same wording again is no new version", async () => {
    const again = { text: "Everything is my own work.", replaces: 1 };
    expect(fields(await writeAgreement(as(), sale.id, again))).toEqual(["text"]);
  });
});
