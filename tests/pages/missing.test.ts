import { v7 } from "uuid";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { type Client, signedIn, startApp, type TestApp } from "../support/app.ts";
import { buildMember } from "../support/build.ts";
import { moveTo } from "../support/build-items.ts";
import { type BuiltPiece, buildHall, buildPieces } from "../support/build-till.ts";

let base: TestApp;
let hall: Awaited<ReturnType<typeof buildHall>>;
let desk: Client;
let treasurer: Client;
let weaver: Client;
let pieces: BuiltPiece[];
beforeAll(async () => {
  base = await startApp();
  hall = await buildHall(base.db, 1);
  pieces = await buildPieces(base.db, hall.sale, hall.weaver, [
    { price: 4_500 },
    { price: 1_900, quantity: 3 },
    { price: 2_500 },
    { price: 700 },
  ]);
  desk = await signedIn(base, await buildMember(base.db, ["desk"]));
  treasurer = await signedIn(base, hall.treasurer);
  weaver = await signedIn(base, hall.weaver);
  await moveTo(base.db, hall.sale, "settling");
});
afterAll(() => base.close());

const page = (rest = "") => `/desk/${hall.sale.id}/missing${rest}`;
/** The words of a page as a person reads them. */
const readable = (html: string) =>
  html
    .replace(/<[^>]+>/g, " ")
    .replace(/&#x27;/g, "'")
    .replace(/\s+/g, " ");
const read = async (client: Client, rest = "") => readable((await client.visit(page(rest))).text);
const places = async ({ id }: BuiltPiece) =>
  base.db.itemCount.findUniqueOrThrow({ where: { itemId: id } });

describe("pieces left over", () => {
  test("are listed with their members, and found by name, number, tag and words", async () => {
    const words = await read(desk);
    for (const text of ["Still on the floor: 6", "Missing: 0", "Member 100 Weaver 100", "3 pieces"])
      expect(words).toContain(text);
    expect(await read(desk, "?q=Weaver+100")).toContain("Scarf 3");
    expect(await read(desk, `?q=${pieces[2]!.tag}`)).not.toContain("Scarf 1");
    const nothing = await read(desk, "?q=nobody");
    expect(nothing).toContain("No piece in this list fits these words");
    expect((await desk.visit(page("?q=%00&after=x&place=elsewhere"))).status).toBe(200);
  });

  test("a part of a stack is noted as missing, found again, and goes home", async () => {
    const stack = pieces[1]!;
    const lost = await desk.submit(page(), {
      ...{ deed: "lost", tags: stack.tag, [`quantity-${stack.tag}`]: "2" },
      reason: "Not on any rack",
    });
    expect([lost.status, lost.headers.location]).toEqual([303, page("?place=floor&q=")]);
    expect(await places(stack)).toMatchObject({ onFloor: 1, lost: 2 });
    const missing = await read(desk, "?place=lost");
    for (const text of ["Missing: 2", "Where they were found", "2 pieces"])
      expect(missing).toContain(text);
    const found = { deed: "found", tags: stack.tag, place: "lost", reason: "Behind the loom" };
    expect((await treasurer.submit(page(), found)).status).toBe(303);
    expect(await read(desk, "?place=lost")).toContain("Nothing is missing");
    const part = { deed: "home", tags: stack.tag, [`quantity-${stack.tag}`]: "2" };
    expect((await desk.submit(page(), part)).status).toBe(303);
    expect(await places(stack)).toMatchObject({ onFloor: 1, withMember: 2, lost: 0 });
  });

  test("several go home at once, and one stays with the guild", async () => {
    const tags = [pieces[0]!.tag, pieces[1]!.tag];
    expect((await desk.submit(page(), { deed: "home", tags })).status).toBe(303);
    expect(await places(pieces[0]!)).toMatchObject({ withMember: 1 });
    const left = { deed: "guild", tags: pieces[2]!.tag, reason: "A gift of its maker" };
    expect((await treasurer.submit(page(), left)).status).toBe(303);
    expect(await read(treasurer, "?place=guild")).toContain("Scarf 3");
  });

  test.each([
    ["nothing ticked", { deed: "lost", reason: "Gone" }, "Tick at least one piece"],
    ["no reason", { deed: "lost", reason: " " }, "Say why, in a few words"],
    ["no deed", { reason: "Gone" }, "Choose what became of the pieces"],
    ["an unknown deed", { deed: "toString", reason: "Gone" }, "Choose what became of the pieces"],
    ["a wrong tag", { deed: "lost", tags: "10000199", reason: "Gone" }, "check digits"],
  ])("%s is refused and keeps what was typed", async (name, fields, words) => {
    const tags = name === "no reason" || name.endsWith("deed") ? { tags: pieces[3]!.tag } : {};
    const answer = await desk.submit(page(), { ...tags, ...fields, q: "Scarf" });
    expect(answer.status).toBe(400);
    expect(readable(answer.text)).toContain(words);
    expect(answer.text).toContain(`value="${fields.reason}"`);
    if ("tags" in tags) expect(answer.text).toMatch(/id="t-\d+"[^>]* checked/);
    expect(await places(pieces[3]!)).toMatchObject({ onFloor: 1, lost: 0 });
  });

  test.each(["0", "x", "9"])("%o of a stack is refused at its field", async (typed) => {
    const [stack] = (await buildPieces(base.db, hall.sale, hall.weaver, [
      { price: 300, quantity: 2 },
    ])) as [BuiltPiece];
    for (const deed of ["lost", "home"]) {
      const fields = { deed, tags: stack.tag, [`quantity-${stack.tag}`]: typed, reason: "Gone" };
      const answer = await desk.submit(page(), fields);
      expect(answer.status).toBe(400);
      expect(answer.text).toContain(`id="e-quantity-${stack.tag}"`);
      expect(answer.text).toContain(`value="${typed}"`);
    }
    expect(await places(stack)).toMatchObject({ onFloor: 2 });
  });

  test("nobody else gets near, and unknown sales are not found", async () => {
    expect((await weaver.visit(page())).status).toBe(403);
    expect((await weaver.submit(page(), { deed: "lost" })).status).toBe(403);
    expect((await desk.visit(`/desk/${v7()}/missing`)).status).toBe(404);
    expect((await desk.visit("/desk/not-an-id/missing")).status).toBe(404);
  });

  test("before selling ends the page can be looked at, and nothing is recorded", async () => {
    await moveTo(base.db, hall.sale, "selling");
    expect(await read(desk)).toContain("You can look");
    const fields = { deed: "lost", tags: pieces[3]!.tag, reason: "Gone" };
    expect((await desk.submit(page(), fields)).status).toBe(409);
    await moveTo(base.db, hall.sale, "settling");
  });
});

describe("the same as JSON", () => {
  const api = (rest: string) => `/api/sales/${hall.sale.id}/${rest}`;

  test("lists, loses, finds and leaves; the same key is one deed", async () => {
    const last = pieces[3]!;
    const listed = await desk.get(api("left-pieces?limit=1"));
    expect(listed.body.items).toHaveLength(1);
    expect(listed.body.next).toBe(listed.body.items[0].tag);
    const body = { pieces: [{ tag: last.tag }], reason: "Gone" };
    const key = v7();
    const [first, second] = [
      await desk.post(api("losses"), body, key),
      await desk.post(api("losses"), body, key),
    ];
    expect([first.status, second.status, second.body]).toEqual([201, 201, first.body]);
    const lost = await desk.get(api("left-pieces?place=lost"));
    expect(lost.body.items).toMatchObject([{ tag: last.tag, lost: 1, memberName: "Weaver 100" }]);
    expect((await desk.post(api("finds"), body)).body.done).toMatchObject([{ quantity: 1 }]);
    expect((await desk.post(api("left-with-guild"), body)).status).toBe(201);
    expect((await desk.post(api("losses"), body)).status).toBe(409);
  });

  test.each([
    [{ pieces: [], reason: "Gone" }],
    [{ pieces: [{ tag: "10000199" }], reason: "Gone" }],
    [{ pieces: [{ tag: "1", quantity: 0 }], reason: "Gone" }],
    [{ pieces: [{ tag: "1" }] }],
    [{ pieces: [{ tag: "1" }], reason: "Gone", more: 1 }],
  ])("%j is refused", async (body) => {
    const answer = await desk.post(api("losses"), body);
    expect(answer.status).toBe(400);
    expect(answer.body.errors.length).toBeGreaterThan(0);
  });

  test("members may not, and unknown sales are not found", async () => {
    const body = { pieces: [{ tag: pieces[3]!.tag }], reason: "Gone" };
    expect((await weaver.get(api("left-pieces"))).status).toBe(403);
    expect((await weaver.post(api("losses"), body)).status).toBe(403);
    expect((await desk.get(`/api/sales/${v7()}/left-pieces`)).status).toBe(404);
    expect((await desk.post(`/api/sales/${v7()}/losses`, body)).status).toBe(404);
  });
});
