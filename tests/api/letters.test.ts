import { v7 } from "uuid";
import { afterAll, beforeAll, expect, test } from "vitest";
import { type Client, signedIn, startApp, type TestApp } from "../support/app.ts";
import { buildGuild, buildMember, buildSale } from "../support/build.ts";

let base: TestApp;
let members: { id: string; number: number }[];
let clients: Client[];
let chair: Client;
let sale: { id: string };
beforeAll(async () => {
  base = await startApp();
  base.at(new Date("2026-11-01T18:00:00Z"));
  await buildGuild(base.db, { locale: "fr-CA" });
  chair = await signedIn(base, await buildMember(base.db, ["chair"]));
  members = [];
  for (let count = 0; count < 6; count += 1) members.push(await buildMember(base.db));
  clients = await Promise.all(members.map((member) => signedIn(base, member)));
  sale = await buildSale(base.db);
});
afterAll(() => base.close());

const all = (wanted: boolean) => ({
  ...{ "entry-deadline": wanted, "check-in-time": wanted },
  ...{ "first-sold": wanted, "statement-ready": wanted },
});

test("a member reads and puts their own letters", async () => {
  const [me, other] = clients as [Client, Client];
  expect((await me.get("/api/me/letters").expect(200)).body).toEqual({
    letters: { ...all(true), "first-sold": false },
    ...{ language: null, writtenIn: "fr", sent: false },
  });
  const wishes = { letters: all(false), language: "de" };
  const put = await me.put("/api/me/letters", wishes).expect(200);
  expect(put.body).toEqual({ ...wishes, writtenIn: "de", sent: false });
  expect((await me.get("/api/me/letters")).body).toEqual(put.body);
  expect((await other.get("/api/me/letters")).body.language).toBeNull();
  for (const wrong of [{}, { letters: {} }, { ...wishes, language: "nl" }, { ...wishes, more: 1 }])
    expect((await me.put("/api/me/letters", wrong)).status).toBe(400);
});

test("of many members who want the last places, so many get them as there are", async () => {
  const span = { day: "2026-11-26", start: "09:00", end: "09:30", places: 2 };
  const planned = await chair.post(`/api/sales/${sale.id}/check-in-times`, span).expect(201);
  const [timeId] = planned.body.ids;
  const picks = await Promise.all(
    clients.map((one) => one.put(`/api/me/check-in-times/${sale.id}`, { timeId })),
  );
  const answers = picks.map(({ status }) => status).sort();
  expect(answers).toEqual([200, 200, 409, 409, 409, 409]);
  expect(await base.db.checkInChoice.count({ where: { timeId } })).toBe(2);
  const list = await chair.get(`/api/sales/${sale.id}/check-in-list`).expect(200);
  expect(list.body.items).toMatchObject([{ taken: 2, places: 2, members: [{}, {}] }]);
});

test("one member who picks two times at once has one", async () => {
  const span = { day: "2026-11-25", start: "09:00", end: "10:00", each: 30, places: 5 };
  const { body } = await chair.post(`/api/sales/${sale.id}/check-in-times`, span).expect(201);
  const [me] = clients as [Client];
  const path = `/api/me/check-in-times/${sale.id}`;
  const picks = await Promise.all(
    [...body.ids, ...body.ids].map((timeId: string) => me.put(path, { timeId })),
  );
  expect(picks.map(({ status }) => status)).toEqual([200, 200, 200, 200]);
  expect(await base.db.checkInChoice.count({ where: { memberId: members[0]!.id } })).toBe(1);
  const { items } = (await me.get(`/api/sales/${sale.id}/check-in-times`)).body;
  expect(items.filter(({ mine }: { mine: boolean }) => mine)).toHaveLength(1);
  expect(JSON.stringify(items)).not.toContain("members");
  await me.put(path, { timeId: null }).expect(200);
  expect(await base.db.checkInChoice.count({ where: { memberId: members[0]!.id } })).toBe(0);
});

test("a time is changed from its version, pages, and comes off while nobody has it", async () => {
  const path = `/api/sales/${sale.id}/check-in-times`;
  const first = (await chair.get(`${path}?limit=1`)).body;
  const second = (await chair.get(`${path}?limit=1&after=${first.next}`)).body;
  expect(second.items[0].startsAt > first.items[0].startsAt).toBe(true);
  const [time] = first.items;
  const change = { day: "2026-11-25", start: "08:00", end: "08:45", places: 3, version: 1 };
  const put = await chair.put(`/api/check-in-times/${time.id}`, change).expect(200);
  expect(put.body).toEqual({ id: time.id, version: 2 });
  expect((await chair.put(`/api/check-in-times/${time.id}`, change)).body.code).toBe(
    "changed-meanwhile",
  );
  const off = `/api/check-in-times/${time.id}/withdrawal`;
  await chair.post(off, { version: 1 }).expect(409);
  await chair.post(off, { version: 2 }).expect(201);
  await chair.post(off, { version: 3 }).expect(404);
  const others = (await chair.get(path)).body.items.map(({ id }: { id: string }) => id);
  expect(others).not.toContain(time.id);
  await chair.get(`/api/sales/${v7()}/check-in-times`).expect(404);
  await chair.put(`/api/me/check-in-times/${v7()}`, { timeId: null }).expect(404);
});

test("a time of another sale cannot be picked for this one", async () => {
  const spring = await buildSale(base.db, { name: "Spring sale" });
  const span = { day: "2026-11-25", start: "09:00", end: "10:00", places: 5 };
  const { body } = await chair.post(`/api/sales/${spring.id}/check-in-times`, span).expect(201);
  const path = `/api/me/check-in-times/${sale.id}`;
  const refused = await clients[1]!.put(path, { timeId: body.ids[0] });
  expect([refused.status, refused.body.errors[0].field]).toEqual([400, "timeId"]);
});

test("the chair sets reminders, reads letters and notes what came back", async () => {
  const path = `/api/sales/${sale.id}`;
  const { body } = await chair.get(`${path}/reminders`).expect(200);
  expect(body.days).toEqual([14, 2]);
  const put = { days: [1, 7, 7], version: body.version };
  const set = await chair.put(`${path}/reminders`, put).expect(200);
  expect(set.body).toEqual({ days: [7, 1], version: body.version + 1 });
  expect((await chair.put(`${path}/reminders`, put)).status).toBe(409);
  expect((await chair.put(`${path}/reminders`, { ...set.body, days: [61] })).status).toBe(400);
  const [weaver] = members;
  const ended = { state: "sent", tries: 1, endedAt: new Date() };
  const mail = {
    memberId: weaver!.id,
    kind: "entry-deadline",
    subjectId: sale.id,
    nextAt: new Date(),
  };
  const { id } = await base.db.memberMail.create({ data: { ...mail, ...ended, saleId: sale.id } });
  const list = await chair.get(`${path}/letters?state=sent`).expect(200);
  expect(list.body).toMatchObject({
    items: [{ id, memberNumber: weaver!.number, state: "sent" }],
    counts: [{ kind: "entry-deadline", state: "sent", count: 1 }],
  });
  expect(JSON.stringify(list.body)).not.toContain("@");
  await chair.post(`/api/letters/${id}/return`, { note: "No such mailbox" }).expect(201);
  await chair.post(`/api/letters/${id}/return`, { note: "Twice" }).expect(409);
  const phone = await chair.get(`${path}/letters/phone`).expect(200);
  expect(phone.body.items).toMatchObject([{ memberNumber: weaver!.number, why: "returned" }]);
  await clients[0]!.get(`${path}/letters`).expect(403);
});
