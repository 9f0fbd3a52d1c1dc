import { v7 } from "uuid";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { findItem } from "../../src/database/items.ts";
import { type Client, signedIn, startApp, type TestApp } from "../support/app.ts";
import { buildGuild, buildMember, buildSale } from "../support/build.ts";
import { enter, moveTo } from "../support/build-items.ts";

let base: TestApp;
type Member = Awaited<ReturnType<typeof buildMember>>;
let member: Member;
let sale: { id: string };
let own: Client;
let desk: Client;

beforeAll(async () => {
  base = await startApp();
  await buildGuild(base.db);
  member = await buildMember(base.db);
  own = await signedIn(base, member);
  desk = await signedIn(base, await buildMember(base.db, ["desk"]));
  sale = await buildSale(base.db);
});
afterAll(() => base.close());

async function entered(more = {}) {
  await moveTo(base.db, sale, "entries-open");
  const item = await enter(base.db, member, sale, more);
  await moveTo(base.db, sale, "entries-closed");
  return item;
}

const scan = (code: string, more: object = {}, key?: string) =>
  desk.submit("/desk/scan", { sale: sale.id, code, ...more }, key);
const stateOf = async (id: string) => (await findItem(base.db, id))?.state;
const word = (html: string) =>
  /class="desk-result (\w+)" role="(\w+)">\s*<h2>(?:<svg.*?<\/svg>)?([^<]+)<\/h2>/s
    .exec(html)
    ?.slice(1);

describe("the scan field", () => {
  test("is for the desk and the chair, and stands ready for the next scan", async () => {
    expect((await own.visit("/desk")).status).toBe(403);
    await entered();
    const page = await desk.visit("/desk");
    expect(page.text).toMatch(/<input id="f-code" name="code" value=""[^>]*autofocus/);
  });

  test("takes a piece in, shows it large, and can take it back", async () => {
    const item = await entered();
    const page = await scan(item.tag);
    expect(page.status).toBe(200);
    expect(word(page.text)).toEqual(["good", "status", "Taken in"]);
    expect(page.text).toMatch(/<input id="f-code" name="code" value=""[^>]*autofocus/);
    expect(await stateOf(item.id)).toBe("on-floor");
    const undone = await desk.submit(`/desk/items/${item.tag}`, {
      deed: "hand-back",
      backReason: "Taken in by mistake",
    });
    expect(undone.status).toBe(303);
    expect((await findItem(base.db, item.id))?.pieces).toMatchObject({ onFloor: 0 });
  });

  test("reloaded after a scan it shows the same again instead of a fault", async () => {
    const item = await entered();
    const key = v7();
    expect(word((await scan(item.tag, {}, key)).text)?.[2]).toBe("Taken in");
    expect(word((await scan(item.tag, {}, key)).text)?.[2]).toBe("Taken in");
    const again = await scan(item.tag);
    expect([again.status, ...(word(again.text) ?? [])]).toEqual([
      ...[409, "warn", "alert", "Already in"],
    ]);
  });

  test.each([
    ["", 400, "Nothing typed"],
    ["9999", 404, "No such member"],
    ["<script>", 400, "Not understood"],
    ["10000199", 400, "Misread"],
  ])("%o answers %i: %s", async (code, status, words) => {
    const page = await scan(code);
    expect([page.status, word(page.text)?.[2]]).toEqual([status, words]);
    expect(page.text).not.toContain("<script>");
  });

  test("a member's number opens their list, and a look opens the piece", async () => {
    const item = await entered();
    const list = await scan(String(member.number));
    expect(list.headers.location).toBe(`/desk/members/${member.number}?sale=${sale.id}`);
    const look = await scan(item.tag, { go: "look" });
    expect(look.headers.location).toBe(`/desk/items/${item.tag}`);
    expect(await stateOf(item.id)).toBe("entered");
  });

  test("before the entries are closed it says so and takes nothing in", async () => {
    const item = await entered();
    await moveTo(base.db, sale, "entries-open");
    const page = await desk.visit("/desk");
    expect(page.text).toContain("Check-in starts when the chair closes the entries");
    expect((await scan(item.tag)).status).toBe(303);
    expect(await stateOf(item.id)).toBe("entered");
  });

  test("after the sale it hands back", async () => {
    const item = await entered();
    await scan(item.tag);
    await moveTo(base.db, sale, "settling");
    expect(word((await scan(item.tag)).text)?.[2]).toBe("Handed back");
    expect(await stateOf(item.id)).toBe("home");
    expect(word((await scan(item.tag)).text)?.[2]).toBe("Not on the floor");
  });
});

describe("one piece in the hand", () => {
  const decide = (tag: string, fields: object) => desk.submit(`/desk/items/${tag}`, { ...fields });

  test("is turned away with a reason, which the member then reads", async () => {
    const item = await entered();
    const without = await decide(item.tag, { deed: "turn-away", reason: "  " });
    expect(without.status).toBe(400);
    expect(without.text).toContain('href="#f-reason"');
    const done = await decide(item.tag, { deed: "turn-away", reason: "Loose ends" });
    expect(done.status).toBe(303);
    expect((await own.visit(`/items/${item.id}`)).text).toContain("Loose ends");
  });

  test("a part of a stack comes in; more than there is does not", async () => {
    const item = await entered({ quantity: 4 });
    const refused = await decide(item.tag, { deed: "take-in", quantity: "5" });
    expect(refused.text).toContain('href="#f-quantity"');
    for (const quantity of ["0", "-1", "two", "1.5"])
      expect((await decide(item.tag, { deed: "take-in", quantity })).status).toBe(400);
    expect((await decide(item.tag, { deed: "take-in", quantity: "3" })).status).toBe(303);
    expect((await findItem(base.db, item.id))?.pieces).toMatchObject({ onFloor: 3, withMember: 1 });
  });

  test("an unknown deed and an unknown tag are refused", async () => {
    const item = await entered();
    expect((await decide(item.tag, { deed: "burn" })).status).toBe(400);
    expect((await decide("10099975", { deed: "take-in" })).status).toBeGreaterThanOrEqual(400);
    expect((await own.submit(`/desk/items/${item.tag}`, { deed: "take-in" })).status).toBe(403);
  });
});

describe("a member's list", () => {
  test("takes in all that is ticked and says what could not be", async () => {
    const weaver = await buildMember(base.db);
    await moveTo(base.db, sale, "entries-open");
    const items = [];
    for (let index = 0; index < 3; index += 1) items.push(await enter(base.db, weaver, sale));
    await moveTo(base.db, sale, "entries-closed");
    const path = `/desk/members/${weaver.number}`;
    expect((await desk.visit(path)).text).toContain("0 of 3 pieces have come");
    await scan(items[0]!.tag);
    const tags = items.slice(0, 2).map(({ tag }) => tag);
    const done = await desk.submit(`${path}/check-ins`, { sale: sale.id, tags });
    expect(done.status).toBe(303);
    expect((await desk.visit(path)).text).toContain("2 of 3 pieces have come");
    const one = await desk.submit(`${path}/check-ins`, { sale: sale.id, tags: items[2]!.tag });
    expect(one.status).toBe(303);
    expect((await desk.visit(path)).text).toContain("Everything has come.");
    expect((await desk.visit("/desk/members")).text).toContain("All 3");
    await moveTo(base.db, sale, "settling");
    const home = await desk.submit(`${path}/pick-ups`, { sale: sale.id, tags });
    expect(home.status).toBe(303);
    expect(await stateOf(items[1]!.id)).toBe("home");
    expect(await stateOf(items[2]!.id)).toBe("on-floor");
  });

  test("nothing ticked, an unknown member and a strange number are answered", async () => {
    await entered();
    const path = `/desk/members/${member.number}`;
    const none = await desk.submit(`${path}/check-ins`, { sale: sale.id });
    expect(none.status).toBe(400);
    expect(none.text).toContain("Tick at least one piece");
    expect((await desk.visit("/desk/members/9998")).status).toBe(404);
    expect((await desk.visit("/desk/members/x%00y")).status).toBe(404);
    expect((await desk.visit(`${path}?sale=${v7()}`)).status).toBe(404);
    expect((await own.visit(path)).status).toBe(403);
  });
});
