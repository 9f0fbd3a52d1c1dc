import { v7 } from "uuid";
import { afterAll, beforeAll, expect, test } from "vitest";
import { type Client, signedIn, startApp, type TestApp } from "../support/app.ts";
import { buildHelpers, type Helpers, hoursPolicy, shiftOf } from "../support/build-shifts.ts";

let base: TestApp;
let people: Helpers;
let chair: Client;
let weaver: Client;
let sale: string;
beforeAll(async () => {
  base = await startApp();
  people = await buildHelpers(base.db);
  await hoursPolicy(base.db, people.sale.id);
  chair = await signedIn(base, people.chair);
  weaver = await signedIn(base, people.weaver);
  sale = `/api/sales/${people.sale.id}`;
});
afterAll(() => base.close());

const fields = (answer: { body: { errors: { field: string }[] } }) =>
  answer.body.errors.map(({ field }) => field);

test("a shift from plan to tick to correction", async () => {
  const planned = await chair.post(`${sale}/shifts`, shiftOf(people.weaver.number));
  expect([planned.status, planned.body.minutes, planned.body.version]).toEqual([201, 210, 1]);
  const path = `/api/shifts/${planned.body.id}`;
  const change = { ...shiftOf(people.weaver.number, { end: "13:00" }), version: 1 };
  expect((await chair.put(path, change)).body).toMatchObject({ minutes: 240, version: 2 });
  expect((await chair.put(path, change)).status).toBe(409);
  const ticked = await chair.put(`${path}/tick`, { mark: "worked", minutes: 240, version: 2 });
  expect(ticked.body).toMatchObject({ mark: "worked", markedBy: people.chair.name, version: 3 });
  expect((await chair.post(`${path}/withdrawal`, { version: 3 })).status).toBe(409);
  await chair.put(`${path}/tick`, { mark: "open", version: 3 });
  expect((await chair.post(`${path}/withdrawal`, { version: 4 })).status).toBe(201);
  expect((await chair.get(path)).status).toBe(404);
});

test.each<[object, string[]]>([
  [{ start: "9:00" }, ["start"]],
  [{ day: "2026-02-30" }, ["day"]],
  [{ member: 0 }, ["member"]],
  [{ task: "" }, ["task"]],
  [{ end: "09:00" }, ["end"]],
])("a shift with %j is refused at %j", async (more, named) => {
  const answer = await chair.post(`${sale}/shifts`, {
    ...shiftOf(people.weaver.number),
    ...more,
  });
  expect([answer.status, fields(answer)]).toEqual([400, named]);
});

test("a tick without minutes, or minutes of a missed shift, is refused", async () => {
  const { body } = await chair.post(`${sale}/shifts`, shiftOf(people.other.number));
  const tick = async (more: object) =>
    fields(await chair.put(`/api/shifts/${body.id}/tick`, { version: 1, ...more }));
  expect(await tick({ mark: "worked" })).toEqual(["minutes"]);
  expect(await tick({ mark: "missed", minutes: 5 })).toEqual(["minutes"]);
  expect(await tick({ mark: "worked", minutes: 1_441 })).toEqual(["minutes"]);
  expect(await tick({ mark: "late" })).toEqual(["mark"]);
});

test("rows are read first and planned then; the list pages", async () => {
  const text = [13, 14, 15].map(
    (hour) => `${people.weaver.number},2026-11-28,${hour}:00,${hour}:30,Floor`,
  );
  const rows = { text: [...text, "nobody"].join("\n") };
  const preview = await chair.post(`${sale}/shifts/list/preview`, rows);
  expect([preview.body.good, preview.body.bad]).toEqual([3, 1]);
  const key = v7();
  const [one, two] = [
    await chair.post(`${sale}/shifts/list`, rows, key),
    await chair.post(`${sale}/shifts/list`, rows, key),
  ];
  expect([one.body, two.body]).toEqual([one.body, { planned: 3, skipped: 1 }]);
  const page = await chair.get(`${sale}/shifts?q=floor&limit=2`);
  const rest = await chair.get(`${sale}/shifts?q=floor&after=${page.body.next}&open=true`);
  expect([page.body.items.length, rest.body.items.length, rest.body.next]).toEqual([2, 1, null]);
});

test("terms of one and of several members", async () => {
  const path = `${sale}/sellers/${people.weaver.id}`;
  const terms = { visitor: false, committee: true, classCode: null, payMethod: "cash" };
  const put = (more: object) => chair.put(path, { ...terms, payAll: true, version: 0, ...more });
  expect((await put({})).body).toMatchObject({ version: 1, rate: 10_000, payMethod: "cash" });
  expect((await put({})).status).toBe(409);
  expect(fields(await put({ classCode: "founders", version: 1 }))).toEqual(["classCode"]);
  expect(fields(await put({ payMethod: "gold" }))).toEqual(["payMethod"]);
  const memberIds = [people.weaver.id, people.other.id];
  const many = { memberIds, change: "class", classCode: "honorary" };
  expect((await chair.post(`${sale}/sellers/changes`, many)).body).toEqual({ members: 2 });
  const list = await chair.get(`${sale}/sellers?inSale=true`);
  expect(list.body.items).toMatchObject([
    { committee: true, rateWords: "10 %: on the committee" },
    { committee: false, rateWords: "5 %: Honorary members" },
  ]);
  expect((await chair.get(`${sale}/sellers/${v7()}`)).status).toBe(404);
});

test("an adjustment, its list and its opposite", async () => {
  const given = { member: people.weaver.number, amount: -250, reason: "Lost name badge" };
  const made = await chair.post(`${sale}/adjustments`, given);
  expect([made.status, made.body.amount]).toEqual([201, -250]);
  const zero = await chair.post(`${sale}/adjustments`, { ...given, amount: 0 });
  expect([zero.status, fields(zero)]).toEqual([400, ["amount"]]);
  const path = `/api/adjustments/${made.body.id}/opposite`;
  expect((await chair.post(path, { reason: "Found it" })).body.amount).toBe(250);
  expect((await chair.post(path, { reason: "Found it" })).status).toBe(409);
  const { items } = (await chair.get(`${sale}/adjustments`)).body;
  expect(items).toMatchObject([{ amount: 250 }, { amount: -250, takenBack: true }]);
});

test("members get at none of it, and unknown sales are not found", async () => {
  for (const path of ["shifts", "sellers", "adjustments"]) {
    expect((await weaver.get(`${sale}/${path}`)).status).toBe(403);
    expect((await chair.get(`/api/sales/${v7()}/${path}`)).status).toBe(404);
  }
  const tick = { mark: "missed", version: 1 };
  expect((await weaver.put(`/api/shifts/${v7()}/tick`, tick)).status).toBe(403);
  expect((await chair.put(`/api/shifts/${v7()}/tick`, tick)).status).toBe(404);
  expect((await weaver.post(`/api/adjustments/${v7()}/opposite`, { reason: "x" })).status).toBe(
    403,
  );
});
