import "fake-indexeddb/auto";
import { beforeEach, expect, test } from "vitest";
import { Keeper, type News } from "../../../src/browser/drafts/keeper.ts";
import { offerFor, sendLeftBehind } from "../../../src/browser/drafts/left-behind.ts";
import { openShelf, type Shelf } from "../../../src/browser/drafts/shelf.ts";
import { newsWords } from "../../../src/browser/drafts/words.ts";
import { draftServer } from "./server.ts";

let server: ReturnType<typeof draftServer>;
let shelf: Shelf;
let told: News[];
let minute: number;
let ids: number;
let owner: string;

beforeEach(() => {
  server = draftServer();
  shelf = openShelf();
  told = [];
  minute = 0;
  ids = 0;
  owner = crypto.randomUUID();
});

const newId = () => {
  ids += 1;
  return `${owner}-${ids}`;
};
const now = () => {
  minute += 1;
  return new Date(Date.UTC(2026, 10, 1, 14, minute));
};
const placeOf = (member = "") => ({
  ...{ owner, form: "one" as const, saleId: "sale", place: `one sale ${member}` },
});
const keeperOn = (on = shelf) =>
  new Keeper(placeOf(), {
    ...{ shelf: on, carry: server.carry, now, newId },
    tell: (news) => told.push(news),
  });
const leftBehind = () => sendLeftBehind({ owner, shelf, carry: server.carry, newId });
const kinds = () => told.map(({ kind }) => kind);
const words = () => [...server.drafts.values()].map(({ fields }) => fields.description);

test("every pause is kept on the device, and the server has one draft with the last of it", async () => {
  const keeper = keeperOn();
  for (const description of ["S", "Sca", "Scarf"]) await keeper.keep({ description });
  await keeper.send();
  await keeper.keep({ description: "Scarf, moss" });
  await keeper.keep({ description: "Scarf, moss" });
  await keeper.send();
  expect(await keeper.send()).toBeUndefined();
  expect(words()).toEqual(["Scarf, moss"]);
  expect(kinds()).toEqual(["kept", "kept", "kept", "sent", "kept", "sent"]);
  expect(await shelf.of(owner)).toMatchObject([{ version: 2, sent: true }]);
});

test("without a connection it stays on the device, is offered after a reload, and sent later", async () => {
  server.reachable = false;
  const keeper = keeperOn();
  await keeper.keep({ description: "Runner" });
  expect(await keeper.send()).toEqual({ kind: "silent" });
  expect(told.at(-1)).toMatchObject({ kind: "waiting", here: true });
  expect(await leftBehind()).toBe(false);
  expect(await offerFor(placeOf(), shelf)).toMatchObject({ fields: { description: "Runner" } });
  expect(await offerFor(placeOf("104"), shelf)).toBeUndefined();
  server.reachable = true;
  expect(await leftBehind()).toBe(true);
  expect(words()).toEqual(["Runner"]);
  expect(await leftBehind()).toBe(false);
  expect(words()).toEqual(["Runner"]);
});

test("what is typed while a sending is under way is sent after it", async () => {
  const keeper = keeperOn();
  await keeper.keep({ description: "One" });
  const first = keeper.send();
  await keeper.keep({ description: "Two" });
  await Promise.all([first, keeper.send()]);
  expect(words()).toEqual(["Two"]);
  expect(server.drafts.size).toBe(1);
});

test("another member on this device is offered nothing, and signing out forgets one's own alone", async () => {
  await keeperOn().keep({ description: "Mine" });
  const other = { ...placeOf(), owner: crypto.randomUUID() };
  expect(await offerFor(other, shelf)).toBeUndefined();
  const theirs = new Keeper(other, {
    ...{ shelf, carry: server.carry, now, newId },
    tell: () => undefined,
  });
  await theirs.keep({ description: "Theirs" });
  await shelf.dropAll(owner);
  expect(await shelf.of(owner)).toEqual([]);
  expect(await shelf.of(other.owner)).toMatchObject([{ fields: { description: "Theirs" } }]);
});

test("an entered draft is forgotten here and not offered again", async () => {
  const keeper = keeperOn();
  await keeper.keep({ description: "Entered" });
  await keeper.send();
  server.drafts.clear();
  await leftBehind();
  expect(await offerFor(placeOf(), shelf)).toBeUndefined();
  expect(words()).toEqual([]);
});

test("typed on after its draft was entered elsewhere, it becomes a draft of its own", async () => {
  const keeper = keeperOn();
  await keeper.keep({ description: "First" });
  await keeper.send();
  server.drafts.clear();
  await keeper.keep({ description: "Second" });
  await keeper.send();
  expect(words()).toEqual(["Second"]);
  expect((await shelf.of(owner)).length).toBe(1);
  // The same, found by the next page.
  await keeper.keep({ description: "Third" });
  server.drafts.clear();
  await leftBehind();
  expect(words()).toEqual(["Third"]);
  expect(await shelf.of(owner)).toMatchObject([{ version: 1, sent: true }]);
});

test("changed on another device meanwhile, both are kept and the line says so", async () => {
  const keeper = keeperOn();
  await keeper.keep({ description: "Phone" });
  await keeper.send();
  const [draft] = server.drafts.values();
  const typedAt = "2026-11-01T14:30:00.000Z";
  server.drafts.set(draft!.id, {
    ...draft!,
    version: 5,
    fields: { description: "Laptop" },
    typedAt,
  });
  await keeper.keep({ description: "Phone, more" });
  await keeper.send();
  expect(words().sort()).toEqual(["Laptop", "Phone, more"]);
  expect(told.at(-1)).toMatchObject({ kind: "beside", newer: true, otherAt: typedAt });
  await keeper.keep({ description: "Phone, still more" });
  await keeper.send();
  expect(words().sort()).toEqual(["Laptop", "Phone, still more"]);
});

test("another tab that sent it first makes no second draft", async () => {
  const keeper = keeperOn();
  await keeper.keep({ description: "Shared" });
  await leftBehind();
  await keeper.keep({ description: "Shared, more" });
  const stale = keeper.typed!;
  expect(stale.version).toBe(0);
  await shelf.put({ ...stale, version: 1 });
  await keeper.send();
  expect(words()).toEqual(["Shared, more"]);
});

test("put aside for an empty form, it is sent once and then no more on this device", async () => {
  server.reachable = false;
  const keeper = keeperOn();
  await keeper.keep({ description: "Aside" });
  await shelf.put({ ...keeper.typed!, aside: true });
  expect(await offerFor(placeOf(), shelf)).toBeUndefined();
  server.reachable = true;
  await leftBehind();
  expect(words()).toEqual(["Aside"]);
  expect(await shelf.of(owner)).toEqual([]);
});

test("a device that keeps nothing still sends, and the line says what to do", async () => {
  const none = openShelf(() => Promise.reject(new Error("private window")));
  const keeper = keeperOn(none);
  await keeper.keep({ description: "Nowhere" });
  expect(newsWords(told[0]!, "en-US")).toContain("Press “Keep as a draft”");
  await keeper.send();
  expect(words()).toEqual(["Nowhere"]);
  expect(await none.of(owner)).toEqual([]);
});

test.each([
  ["limit-reached", "full"],
  ["not-signed-in", "signed-out"],
  ["form-expired", "signed-out"],
])("a refusal %s leaves it on the device and is told as %s", async (code, kind) => {
  server.refuses = code;
  const keeper = keeperOn();
  await keeper.keep({ description: "Kept" });
  await keeper.send();
  expect(kinds()).toEqual(["kept", kind]);
  expect(await shelf.of(owner)).toMatchObject([{ sent: false, version: 0 }]);
});
