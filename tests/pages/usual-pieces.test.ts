import { v7 } from "uuid";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { type Client, signedIn, type TestApp } from "../support/app.ts";
import { type Member, startAtEntry } from "../support/at-entry.ts";
import { buildMember } from "../support/build.ts";
import { enter } from "../support/build-items.ts";
import { errorLinks, linksIn } from "../support/html.ts";

let base: TestApp;
let member: Member;
let own: Client;
let other: Client;
let sale: { id: string };
let itemId: string;

beforeAll(async () => {
  ({ base, member, own, sale } = await startAtEntry());
  other = await signedIn(base, await buildMember(base.db, ["member", "desk", "chair"]));
  const label = { description: "Huck towel", kind: "towel", technique: "Huck lace", price: 2_800 };
  itemId = (await enter(base.db, member, sale, label)).id;
});
afterAll(() => base.close());

const keep = async (name: string): Promise<string> => {
  await own.submit("/items/usual", { itemId, name });
  const found = await base.db.usualPiece.findFirstOrThrow({ where: { memberId: member.id, name } });
  return found.id;
};

describe("keeping a usual piece", () => {
  test("an empty list says how one comes about, and the item leads there", async () => {
    expect((await own.visit("/items/usual")).text).toContain("No usual piece yet");
    const item = await own.visit(`/items/${itemId}`);
    expect(linksIn(item.text)).toContain(`/items/usual/new?item=${itemId}`);
    const form = await own.visit(`/items/usual/new?item=${itemId}`);
    expect(form.text).toContain('value="Huck towel"');
  });

  test("a name is needed and at most 60 letters long; nothing typed is lost", async () => {
    const none = await own.submit("/items/usual", { itemId, name: " " });
    expect([none.status, errorLinks(none.text)]).toEqual([400, ["name"]]);
    const long = await own.submit("/items/usual", { itemId, name: "n".repeat(61) });
    expect(errorLinks(long.text)).toEqual(["name"]);
    expect(long.text).toContain("n".repeat(61));
    expect(await base.db.usualPiece.count()).toBe(0);
  });

  test("an entry starts from it, one piece or several, without what differs", async () => {
    const id = await keep("Towel for every day");
    const list = await own.visit("/items/usual");
    expect(linksIn(list.text)).toContain(`/items/new?usual=${id}`);
    expect(list.text).toContain("80 % Wool");
    const form = await own.visit(`/items/new?usual=${id}`);
    for (const value of ['value="Huck towel"', 'value="28.00"', 'value="Huck lace"', 'value="80"'])
      expect(form.text).toContain(value);
    expect(form.text).toMatch(/<option value="towel" selected>/);
    expect(form.text).not.toContain("Moss and straw");
    const many = await own.visit(`/items/many?usual=${id}`);
    expect(many.text).toContain('value="Huck towel"');
    expect(many.text).toContain('id="f-rows.19.colours"');
  });

  test("only one's own item is kept and only one's own piece is seen, whatever the role", async () => {
    const id = await keep("Mine alone");
    const answers = [
      await other.submit("/items/usual", { itemId, name: "Theirs" }),
      await other.visit(`/items/usual/new?item=${itemId}`),
      await other.visit(`/items/usual/${id}`),
      await other.submit(`/items/usual/${id}`, { name: "x", price: "5", version: "1" }),
      await other.submit(`/items/usual/${id}/put-away`, { version: "1" }),
      await other.visit(`/items/new?usual=${id}`),
      await other.visit(`/items/many?usual=${id}`),
      await other.visit(`/items/usual/${v7()}`),
      await other.get(`/api/usual-pieces/${id}`),
      await other.post("/api/usual-pieces", { itemId, name: "Theirs" }),
      await other.patch(`/api/usual-pieces/${id}`, { name: "x", price: 5, version: 1 }),
      await other.put(`/api/usual-pieces/${id}/put-away`, { version: 1 }),
    ];
    expect(answers.map(({ status }) => status)).toEqual(answers.map(() => 404));
    expect((await other.get("/api/usual-pieces")).body.items).toEqual([]);
  });
});

describe("changing a usual piece", () => {
  test("name and price are changed from the version on the screen", async () => {
    const id = await keep("Old name");
    const wrong = await own.submit(`/items/usual/${id}`, { name: "", price: "x", version: "1" });
    expect(errorLinks(wrong.text)).toEqual(["name", "price"]);
    const given = { name: "New name", price: "31.00", version: "1" };
    expect((await own.submit(`/items/usual/${id}`, given)).status).toBe(303);
    const stale = await own.submit(`/items/usual/${id}`, { ...given, name: "Late name" });
    expect(stale.status).toBe(409);
    expect(await base.db.usualPiece.findUnique({ where: { id } })).toMatchObject({
      name: "New name",
      price: 3_100n,
      version: 2,
    });
  });

  test("put away it leaves the list, and comes back as it was", async () => {
    const id = await keep("Out of fashion");
    expect((await own.submit(`/items/usual/${id}/put-away`, { version: "1" })).status).toBe(303);
    expect((await own.visit("/items/usual")).text).not.toContain("Out of fashion");
    expect((await own.visit("/items/usual?away=yes")).text).toContain("Out of fashion");
    expect((await own.visit(`/items/usual/${id}`)).text).toContain("Bring it back");
    expect((await own.submit(`/items/usual/${id}/bring-back`, { version: "1" })).status).toBe(409);
    expect((await own.submit(`/items/usual/${id}/bring-back`, { version: "2" })).status).toBe(303);
    expect((await own.visit("/items/usual?q=fashion")).text).toContain("Out of fashion");
    expect((await own.visit("/items/usual?q=carpet")).text).toContain("No piece like that");
  });

  test("by the API: kept, read, changed, put away, brought back, and paged by name", async () => {
    const kept = await own.post("/api/usual-pieces", { itemId, name: "A first one" });
    expect(kept.status).toBe(201);
    const path = `/api/usual-pieces/${kept.body.id}`;
    expect((await own.get(path)).body).toMatchObject({ kind: "towel", price: 2_800, version: 1 });
    const changed = await own.patch(path, { name: "A 1st one", price: 2_900, version: 1 });
    expect(changed.body).toMatchObject({ name: "A 1st one", price: 2_900, version: 2 });
    expect((await own.put(`${path}/put-away`, { version: 2 })).body.putAwayAt).not.toBeNull();
    const away = await own.get("/api/usual-pieces?away=yes");
    expect(away.body.items.map(({ id }: { id: string }) => id)).toEqual([kept.body.id]);
    expect((await own.delete(`${path}/put-away?version=3`)).body.putAwayAt).toBeNull();
    const first = await own.get("/api/usual-pieces?limit=1");
    expect(first.body.items).toMatchObject([{ name: "A 1st one" }]);
    const rest = await own.get(`/api/usual-pieces?limit=1&after=${first.body.next}`);
    expect(rest.body.items[0].name > "A 1st one").toBe(true);
  });

  test("there is an end to how many are kept", async () => {
    const full = await signedIn(base, member);
    const row = await base.db.usualPiece.findFirstOrThrow({ where: { memberId: member.id } });
    await base.db.usualPiece.createMany({
      data: Array.from({ length: 200 }, (_, index) => ({
        ...row,
        ...{ id: v7(), name: `Copy ${index}`, fibres: [], labelDetails: {} },
      })),
    });
    const refused = await full.post("/api/usual-pieces", { itemId, name: "One too many" });
    expect([refused.status, refused.body.code]).toEqual([409, "limit-reached"]);
  });
});
