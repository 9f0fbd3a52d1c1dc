import { afterAll, beforeAll, expect, test } from "vitest";
import { type Client, signedIn, startApp, type TestApp } from "../support/app.ts";
import { buildGuild, buildMember, buildSale } from "../support/build.ts";
import { enter } from "../support/build-items.ts";
import { errorLinks } from "../support/html.ts";

let base: TestApp;
let member: Awaited<ReturnType<typeof buildMember>>;
let weaver: Client;
let other: Client;
let desk: Client;
let treasurer: Client;
let sale: { id: string };
beforeAll(async () => {
  base = await startApp();
  base.at(new Date("2026-11-01T18:00:00Z"));
  await buildGuild(base.db);
  member = await buildMember(base.db);
  weaver = await signedIn(base, member);
  other = await signedIn(base, await buildMember(base.db));
  desk = await signedIn(base, await buildMember(base.db, ["desk"]));
  treasurer = await signedIn(base, await buildMember(base.db, ["treasurer"]));
  sale = await buildSale(base.db);
});
afterAll(() => base.close());

const at = (rest = "") => `/sales/${sale.id}/check-in-times${rest}`;
const own = () => `/items/check-in?sale=${sale.id}`;
const read = (html: string) =>
  html
    .replace(/<[^>]+>/g, " ")
    .replace(/&#x27;/g, "'")
    .replace(/\s+/g, " ");
const typed = (more: object = {}) => ({
  ...{ day: "2026-11-26", start: "09:00", end: "10:00", each: "30", places: "1", ...more },
});
const times = () => base.db.checkInTime.findMany({ orderBy: { startsAt: "asc" } });
const pick = (who: Client, timeId: string) =>
  who.submit("/items/check-in", { sale: sale.id, timeId });

test("without a time the pages say what to do", async () => {
  expect(read((await desk.visit(at())).text)).toContain("No check-in time yet Plan when the desk");
  expect(read((await treasurer.visit(at())).text)).toContain("The chair or the desk plans");
  expect(read((await weaver.visit(own())).text)).toContain("No check-in time to pick");
  expect((await weaver.visit(`/items?sale=${sale.id}`)).text).not.toContain("/items/check-in");
});

test("the desk plans a span in one go; what is wrong comes back as it was typed", async () => {
  const wrong = await desk.submit(at(), typed({ places: "many", start: "" }));
  expect([wrong.status, errorLinks(wrong.text)]).toEqual([400, ["start", "places"]]);
  expect(wrong.text).toContain('value="many"');
  const length = await desk.submit(at(), typed({ each: "half an hour" }));
  expect(errorLinks(length.text)).toEqual(["each"]);
  expect(errorLinks((await desk.submit(at(), typed({ day: "2062-11-26" }))).text)).toEqual(["day"]);
  expect(await times()).toEqual([]);
  await desk.submit(at(), typed()).expect(303);
  expect((await times()).map(({ startsAt, minutes }) => [startsAt.toISOString(), minutes])).toEqual(
    [
      ["2026-11-26T15:00:00.000Z", 30],
      ["2026-11-26T15:30:00.000Z", 30],
    ],
  );
  await treasurer.submit(at(), typed()).expect(403);
});

test("a member picks a time, and the items' page and the desk know it", async () => {
  await enter(base.db, member, sale, { quantity: 3 });
  expect(read((await weaver.visit(`/items?sale=${sale.id}`)).text)).toContain(
    "You have not picked a time to bring your pieces yet. My check-in time",
  );
  const [first] = await times();
  await pick(weaver, first!.id).expect(303);
  expect(read((await weaver.visit(own())).text)).toMatch(
    /Your time Thursday, Nov 26, 2026, 9:00\sAM – 9:30\sAM/,
  );
  expect(read((await weaver.visit(`/items?sale=${sale.id}`)).text)).toContain(
    "The desk expects you on Thursday, Nov 26, 2026",
  );
  const list = read((await desk.visit(at())).text);
  expect(list).toMatch(
    new RegExp(`9:00\\sAM – 9:30\\sAM Full ${member.number} ${member.name}, 3 pieces`),
  );
  expect(read((await desk.visit(at(`?q=${member.number}`))).text)).not.toContain("nobody yet");
  expect(read((await desk.visit(at("?q=zzz"))).text)).toContain("Nobody found");
});

test("a full time is shut for others, on the page and behind it", async () => {
  const [first, second] = await times();
  const { text } = await other.visit(own());
  expect(text).toMatch(new RegExp(`value="${first!.id}" disabled`));
  const refused = await pick(other, first!.id);
  expect([refused.status, errorLinks(refused.text)]).toEqual([409, ["timeId"]]);
  await pick(other, second!.id).expect(303);
  const again = await pick(other, second!.id);
  expect(again.status).toBe(303);
});

test("a time given up is free again", async () => {
  const [first] = await times();
  await pick(weaver, "none").expect(303);
  expect(await base.db.checkInChoice.count({ where: { memberId: member.id } })).toBe(0);
  await pick(other, first!.id).expect(303);
  expect(await base.db.checkInChoice.count()).toBe(1);
});

test("nothing picked, an unknown time and one that has begun are refused at the field", async () => {
  const strange = "01900000-0000-7000-8000-000000000000";
  for (const timeId of ["", strange, "x"])
    expect(errorLinks((await pick(weaver, timeId)).text), timeId).toEqual(["timeId"]);
  const [, second] = await times();
  base.at(new Date("2026-11-26T15:30:00Z"));
  expect(errorLinks((await pick(weaver, second!.id)).text)).toEqual(["timeId"]);
  base.at(new Date("2026-11-01T18:00:00Z"));
});

test("a time that somebody picked can be moved and not taken off", async () => {
  const [first] = await times();
  const path = at(`/${first!.id}`);
  expect((await desk.visit(path).expect(200)).text).not.toContain("/withdrawal");
  expect((await desk.submit(`${path}/withdrawal`, { version: "1" })).status).toBe(409);
  const change = { ...typed({ start: "08:00", end: "08:30" }), version: "1" };
  await desk.submit(path, change).expect(303);
  expect((await desk.submit(path, change)).status).toBe(409);
  expect((await times())[0]!.startsAt.toISOString()).toBe("2026-11-26T14:00:00.000Z");
  expect(await base.db.checkInChoice.count({ where: { timeId: first!.id } })).toBe(1);
});

test("fewer places than members is refused; a free time comes off the list", async () => {
  const [first, second] = await times();
  await desk.submit(at(`/${first!.id}`), { ...typed({ places: "2" }), version: "2" }).expect(303);
  await pick(weaver, first!.id).expect(303);
  const fewer = await desk.submit(at(`/${first!.id}`), { ...typed(), version: "3" });
  expect(errorLinks(fewer.text)).toEqual(["places"]);
  await desk.submit(at(`/${second!.id}/withdrawal`), { version: "1" }).expect(303);
  await desk.visit(at(`/${second!.id}`)).expect(404);
  expect(errorLinks((await pick(weaver, second!.id)).text)).toEqual(["timeId"]);
});

test("at another stage nothing is planned or picked", async () => {
  await base.db.sale.update({ where: { id: sale.id }, data: { stage: "settling" } });
  const [first] = await times();
  expect((await desk.submit(at(), typed())).status).toBe(409);
  expect((await pick(weaver, first!.id)).status).toBe(409);
  await weaver.visit(own()).expect(200);
  await base.db.sale.update({ where: { id: sale.id }, data: { stage: "entries-open" } });
});
