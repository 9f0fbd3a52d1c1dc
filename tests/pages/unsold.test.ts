import { v7 } from "uuid";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { copyItem } from "../../src/actions/copy-item.ts";
import { enterAgain } from "../../src/actions/item-lists/enter-again.ts";
import { putListBack, takeListBack } from "../../src/actions/item-lists/take-list-back.ts";
import { showTag } from "../../src/rules/tag-number.ts";
import { type Client, signedIn, type TestApp } from "../support/app.ts";
import { type Member, startAtEntry } from "../support/at-entry.ts";
import { buildMember, deedOf } from "../support/build.ts";
import { early, enter } from "../support/build-items.ts";
import { buildUnsold } from "../support/build-unsold.ts";
import { errorLinks, linksIn } from "../support/html.ts";

let base: TestApp;
let member: Member;
let own: Client;
let sale: { id: string };
let old: Awaited<ReturnType<typeof buildUnsold>>;

beforeAll(async () => {
  ({ base, member, own, sale } = await startAtEntry());
  old = await buildUnsold(base.db, member, [
    { description: "Moss scarf", price: 4_500 },
    { description: "Mug rugs", kind: "mug-rug", quantity: 3, price: 900, home: 2 },
    { description: "Straw shawl", kind: "shawl", price: 12_000 },
    { description: "Rust scarf" },
  ]);
  const itemId = old.items[0]!.id;
  await base.db.itemMaking.create({ data: { itemId, minutes: 200, materials: 1_100n } });
});
afterAll(() => base.close());

const idOf = (row: number) => old.items[row]!.id;
const copies = (earlierId: string) =>
  base.db.itemAgain.findMany({ where: { earlierId }, include: { item: true } });
const again = (who: Member, items: { itemId: string; price?: number }[], key?: string) =>
  enterAgain(deedOf(base.db, who, key), { saleId: sale.id, items, agreementVersion: 1 }, early);

describe("the list of what came home", () => {
  test("shows one's own pieces, finds words and tags, and goes on by pages", async () => {
    const page = await own.visit("/items/unsold");
    expect(page.status).toBe(200);
    for (const words of ["Moss scarf", "Straw shawl", "Mug rugs", "2 alike", "Spring sale"])
      expect(page.text).toContain(words);
    expect(page.text).toContain("new tag number");
    const found = await own.visit("/items/unsold?q=scarf+moss");
    expect(found.text).toContain("Moss scarf");
    expect(found.text).not.toContain("Straw shawl");
    const none = await own.visit("/items/unsold?q=carpet");
    expect(none.text).toContain("No piece like that");
    const first = await own.get(`/api/sales/${sale.id}/items/unsold?limit=3`);
    expect(first.body.items.map(({ description }: { description: string }) => description)).toEqual(
      ["Rust scarf", "Straw shawl", "Mug rugs"],
    );
    const rest = await own.get(`/api/sales/${sale.id}/items/unsold?after=${first.body.next}`);
    expect(rest.body).toMatchObject({ items: [{ description: "Moss scarf" }], next: null });
  });

  test("is empty for others, and leaves out what is still entered or withdrawn", async () => {
    const other = await buildMember(base.db);
    await enter(base.db, other, sale);
    const client = await signedIn(base, other);
    const page = await client.visit("/items/unsold");
    expect(page.text).toContain("Nothing came home");
  });
});

describe("entering again", () => {
  test("no tick and a strange percentage are named, and the ticks stay", async () => {
    const none = await own.visit(`/items/unsold/again?sale=${sale.id}`);
    expect(errorLinks(none.text)).toEqual(["item"]);
    const wrong = await own.visit(
      `/items/unsold/again?sale=${sale.id}&item=${idOf(0)}&item=${idOf(2)}&less=half`,
    );
    expect(errorLinks(wrong.text)).toEqual(["less"]);
    expect(wrong.text.match(/type="checkbox"[^>]* checked/g)).toHaveLength(2);
    expect(wrong.text).toContain('value="half"');
  });

  test("the new prices stand in fields, by the percentage and on the sale's steps", async () => {
    const page = await own.visit(
      `/items/unsold/again?sale=${sale.id}&item=${idOf(0)}&item=${idOf(1)}&item=${v7()}&less=15`,
    );
    expect(page.text).toContain("Enter these 2 pieces again");
    expect(page.text).toContain('value="38.00"');
    expect(page.text).toContain('value="8.00"');
    expect(page.text).toContain("Take the old tag off");
  });

  test("a wrong price is named in its row, and then all are entered under new tags", async () => {
    const fields = {
      ...{ sale: sale.id, agreementVersion: "1" },
      ...{ "rows.0.item": idOf(0), "rows.0.price": "40.00" },
      ...{ "rows.1.item": idOf(1), "rows.1.price": "8.50" },
    };
    const refused = await own.submit("/items/unsold/again", fields);
    expect(refused.status).toBe(400);
    expect(errorLinks(refused.text)).toEqual(["rows.1.price"]);
    expect(refused.text).toContain('value="40.00"');
    const unread = await own.submit("/items/unsold/again", { ...fields, "rows.0.price": "x" });
    expect(errorLinks(unread.text)).toEqual(["rows.0.price"]);
    expect(await copies(idOf(0))).toEqual([]);

    const done = await own.submit("/items/unsold/again", { ...fields, "rows.1.price": "8.00" });
    expect(done.status).toBe(303);
    const [scarf] = await copies(idOf(0));
    const [rugs] = await copies(idOf(1));
    expect(scarf?.item).toMatchObject({ price: 4_000n, quantity: 1, saleId: sale.id });
    expect(rugs?.item).toMatchObject({ price: 800n, quantity: 2 });
    const making = await base.db.itemMaking.findUnique({ where: { itemId: scarf!.itemId } });
    expect(making).toMatchObject({ minutes: 200, materials: 1_100n });
    const list = await own.visit(String(done.headers.location));
    expect(list.text).toContain("Take the old tags off");
    const page = await own.visit("/items/unsold");
    expect(page.text).toContain(`Entered again as <a href="/items/${scarf!.itemId}">`);
    expect(page.text).toContain(showTag(scarf!.item.tag));
    expect(page.text).not.toContain(`value="${idOf(0)}"`);
  });

  test("two at once enter a piece once, and a second time it is refused by name", async () => {
    const items = [{ itemId: idOf(2) }];
    const both = await Promise.all([again(member, items, v7()), again(member, items, v7())]);
    expect(both.map(({ ok }) => ok).sort()).toEqual([false, true]);
    const [copy] = await copies(idOf(2));
    const third = await again(member, items);
    expect(third.ok ? "" : third.problem.detail).toContain(showTag(copy!.item.tag));
  });

  test("a foreign piece, one twice, and one that never came home enter nothing", async () => {
    const other = await buildMember(base.db);
    const fresh = await enter(base.db, other, sale);
    const codes = [
      await again(other, [{ itemId: idOf(3) }]),
      await again(other, [{ itemId: fresh.id }]),
      await again(member, [{ itemId: idOf(3) }, { itemId: idOf(3) }]),
      await again(member, [{ itemId: idOf(3) }, { itemId: v7() }]),
    ].map((done) => (done.ok ? "ok" : done.problem.code));
    expect(codes).toEqual(["not-found", "not-found", "invalid-input", "not-found"]);
    expect(await copies(idOf(3))).toEqual([]);
  });

  test("taken back, a piece can be entered again; it is never put back beside itself", async () => {
    const first = await again(member, [{ itemId: idOf(3) }]);
    const listId = first.ok ? first.value.listId : "";
    await takeListBack(deedOf(base.db, member), { listId }, early);
    expect((await again(member, [{ itemId: idOf(3), price: 3_000 }])).ok).toBe(true);
    const back = await putListBack(deedOf(base.db, member), { listId });
    expect(back).toMatchObject({ ok: false, problem: { code: "already-done" } });
  });

  test("the single copy of a piece that came home marks it too, one more of this sale does not", async () => {
    const other = await buildMember(base.db);
    const client = await signedIn(base, other);
    const home = await buildUnsold(base.db, other, [{ description: "Rye bag", kind: "bag" }]);
    const given = { itemId: home.items[0]!.id, saleId: sale.id, agreementVersion: 1 };
    const copy = await copyItem(deedOf(base.db, other), given, early);
    const id = copy.ok ? copy.value.id : "";
    await copyItem(deedOf(base.db, other), { ...given, itemId: id }, early);
    expect(await base.db.itemAgain.count({ where: { item: { memberId: other.id } } })).toBe(1);
    const page = await client.visit("/items/unsold");
    expect(linksIn(page.text)).toContain(`/items/${id}`);
  });

  test("what went to yet another sale is listed under its newest tag alone", async () => {
    const other = await buildMember(base.db);
    const first = await buildUnsold(base.db, other, [{ description: "Flax runner" }]);
    const second = await buildUnsold(base.db, other, [{ description: "Flax runner" }]);
    const [earlierId, itemId] = [first.items[0]!.id, second.items[0]!.id];
    await base.db.itemAgain.create({ data: { earlierId, itemId } });
    const client = await signedIn(base, other);
    const { body } = await client.get(`/api/sales/${sale.id}/items/unsold`);
    expect(body.items.map(({ id }: { id: string }) => id)).toEqual([itemId]);
  });
});
