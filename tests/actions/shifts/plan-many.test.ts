import { v7 } from "uuid";
import { afterAll, beforeEach, expect, test } from "vitest";
import { planShifts, previewShifts } from "../../../src/actions/shifts/plan-many.ts";
import { findSale } from "../../../src/database/sales.ts";
import { deedOf } from "../../support/build.ts";
import { done } from "../../support/build-settlement.ts";
import { buildHelpers, type Helpers, plan } from "../../support/build-shifts.ts";
import { freshDatabase, type TestDatabase } from "../../support/database.ts";

let base: TestDatabase;
let people: Helpers;
beforeEach(async () => {
  await base?.drop();
  base = await freshDatabase();
  people = await buildHelpers(base.db);
});
afterAll(() => base.drop());

const preview = async (text: string) => {
  const sale = await findSale(base.db, people.sale.id);
  return previewShifts(base.db, sale!, text);
};
const apply = (text: string, key?: string) =>
  planShifts(deedOf(base.db, people.desk, key), { saleId: people.sale.id, text });

/** As a spreadsheet copies it, with names over the columns. */
const rows = () =>
  [
    ["Member", "Day", "From", "Until", "Task", "Stand-in"],
    [people.weaver.number, "11/27/2026", "9:00 AM", "12:30 PM", "Cashier", ""],
    [people.other.number, "2026-11-27", "22:00", "1:00", "Night watch", "A cousin"],
    [people.weaver.number, "11/27/2026", "11:00", "13:00", "Greeter", ""],
    ["9999", "11/27/2026", "9:00", "10:00", "Greeter", ""],
    ["Ada", "27/11/2026", "nine", "10", "", ""],
    [people.other.number, "11/27/2027", "9:00", "10:00", "Greeter", ""],
  ]
    .map((row) => row.join("\t"))
    .join("\r\n");

test("the preview says of each row what would become of it, and plans nothing", async () => {
  const { rows: read, good, bad } = done(await preview(rows()));
  expect([good, bad]).toEqual([2, 4]);
  expect(read.map(({ line }) => line)).toEqual([2, 3, 4, 5, 6, 7]);
  expect(read.map(({ problems }) => problems.join(". "))).toEqual([
    "",
    "",
    `Member ${people.weaver.number} has a shift at that time already.`,
    "Nobody in the guild has this number.",
    expect.stringMatching(/first column.*second column.*third column.*fourth column.*be done/),
    "This day is far from Autumn sale. Check the year.",
  ]);
  expect(await base.db.shift.count()).toBe(0);
});

test("the good rows are planned once, however often they are sent", async () => {
  const key = v7();
  const [one, two] = [await apply(rows(), key), await apply(rows(), key)];
  expect(done(one)).toEqual({ planned: 2, skipped: 4 });
  expect(done(two)).toEqual(done(one));
  expect(await apply(rows())).toMatchObject({ ok: false, problem: { code: "invalid-input" } });
  const shifts = await base.db.shift.findMany({ orderBy: { startsAt: "asc" } });
  expect(shifts).toMatchObject([
    { minutes: 210, task: "Cashier" },
    { minutes: 180, task: "Night watch", standIn: "A cousin" },
  ]);
});

test("two people who paste the same at once plan each shift once", async () => {
  const both = await Promise.all([apply(rows(), v7()), apply(rows(), v7())]);
  expect(both.filter(({ ok }) => ok)).toHaveLength(1);
  expect(await base.db.shift.count()).toBe(2);
});

test("a shift that is planned already is named, and rows without a head are read too", async () => {
  await plan(base.db, people);
  const text = `${people.weaver.number}; 2026-11-27; 9:00; 12:30; Cashier\n#${people.other.number}; 2026-11-28; 9:00; 12:30; Cashier`;
  const { rows: read } = done(await preview(text));
  expect(read.map(({ problems }) => problems.length)).toEqual([1, 0]);
});

test("too many rows, and a quotation mark without its fellow, are refused whole", async () => {
  const many = Array.from({ length: 501 }, () => "104,2026-11-27,9:00,10:00,x").join("\n");
  expect(await preview(many)).toMatchObject({ ok: false, problem: { code: "limit-reached" } });
  expect(await preview('104,"2026-11-27,9:00')).toMatchObject({
    ok: false,
    problem: { errors: [{ field: "text" }] },
  });
});
