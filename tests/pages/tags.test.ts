import { v7 } from "uuid";
import { afterAll, beforeAll, expect, test } from "vitest";
import { type Client, signedIn, startApp, type TestApp } from "../support/app.ts";
import { buildGuild, buildMember, buildSale } from "../support/build.ts";
import { enter } from "../support/build-items.ts";
import { pagesOf, readBars, wordsOf } from "../support/pdf.ts";

let base: TestApp;
let member: Awaited<ReturnType<typeof buildMember>>;
let own: Client;
let other: Client;
let desk: Client;
let sale: { id: string };
let tags: string[];
let itemId: string;

beforeAll(async () => {
  base = await startApp();
  await buildGuild(base.db);
  member = await buildMember(base.db);
  const neighbour = await buildMember(base.db);
  own = await signedIn(base, member);
  other = await signedIn(base, neighbour);
  desk = await signedIn(base, await buildMember(base.db, ["desk"]));
  sale = await buildSale(base.db);
  const one = await enter(base.db, member, sale, { quantity: 2, description: "Écharpe à ½" });
  const two = await enter(base.db, member, sale, { piecesInSet: 4 });
  const gone = await enter(base.db, member, sale);
  await base.db.item.update({ where: { id: gone.id }, data: { withdrawnAt: new Date() } });
  const theirs = await enter(base.db, neighbour, sale);
  tags = [one.tag, one.tag, two.tag, theirs.tag];
  itemId = one.id;
});
afterAll(() => base.close());

async function barsOf(client: Client, path: string): Promise<string[]> {
  const answer = await client.visit(path).responseType("blob");
  expect(answer.headers["content-type"]).toBe("application/pdf");
  const found: string[] = [];
  for (const page of await pagesOf(answer.body as Uint8Array))
    found.push(...(await readBars(page, 203)).map(({ text }) => text));
  return found.sort();
}

test("a member prints every tag of one's own and no withdrawn one, a tag for each alike piece", async () => {
  expect(await barsOf(own, `/tags/file?sale=${sale.id}&each=yes`)).toEqual(tags.slice(0, 3));
  expect(await barsOf(own, `/tags/file?sale=${sale.id}`)).toEqual([tags[0], tags[2]]);
});

test("one item, on any sheet, from any label", async () => {
  for (const stock of ["letter-10", "a4-21", "a4-24"])
    expect(await barsOf(own, `/tags/file?item=${itemId}&stock=${stock}&start=5`)).toEqual([
      tags[0],
    ]);
});

test("the words on it are the item's own", async () => {
  const path = `/tags/file?item=${itemId}&stock=letter-10`;
  const answer = await own.visit(path).responseType("blob");
  expect(answer.headers["content-disposition"]).toMatch(
    /^attachment; filename="tags-autumn-sale-100-001-\d\d\.pdf"$/,
  );
  const [page] = await pagesOf(answer.body as Uint8Array);
  const words = await wordsOf(page!);
  for (const word of ["Écharpe à ½", "$45.00", "80% Wool", "Hand wash cold.", "2 pieces"])
    expect(words).toContain(word);
  expect(words).not.toContain(member.name);
});

test("the desk prints a member's or everybody's; the API gives the same", async () => {
  const member100 = `/tags/file?sale=${sale.id}&whose=member&member=${member.number}`;
  expect(await barsOf(desk, member100)).toEqual([tags[0], tags[2]]);
  expect(await barsOf(desk, `/tags/file?sale=${sale.id}&whose=sale&each=yes`)).toEqual(tags);
  expect(await barsOf(desk, `/api/sales/${sale.id}/tags.pdf`)).toEqual(tags);
  expect(await barsOf(own, `/api/sales/${sale.id}/tags.pdf?each=no`)).toEqual([tags[0], tags[2]]);
});

test("the sheet for the guild's paper is chosen beforehand", async () => {
  expect((await own.visit("/tags")).text).toMatch(/<option value="letter-30" selected>/);
});

test.each<[string, number, string]>([
  ["start=0", 400, "start"],
  ["start=31", 400, "start"],
  ["start=two", 400, "start"],
  ["start=1.5", 400, "start"],
  ["stock=napkin", 400, "stock"],
  ["whose=member&member=", 400, "member"],
  ["whose=member&member=9998", 400, "member"],
])("%s answers %i and names the field", async (query, status, field) => {
  const page = await desk.visit(`/tags/file?sale=${sale.id}&${query}`);
  expect(page.status).toBe(status);
  expect(page.text).toContain(`href="#f-${field}"`);
});

test("nobody prints another member's tags, and an unknown sale or item is not there", async () => {
  const theirs = `/tags/file?sale=${sale.id}&whose=member&member=${member.number}`;
  expect((await other.visit(theirs)).status).toBe(400);
  expect((await other.visit(`/tags/file?item=${itemId}`)).status).toBe(404);
  expect((await other.visit(`/tags/file?sale=${v7()}`)).status).toBe(404);
  const api = `/api/sales/${sale.id}/tags.pdf`;
  expect((await other.get(`${api}?member=${member.number}`)).status).toBe(404);
  expect((await other.get(`${api}?item=${itemId}`)).status).toBe(404);
  expect((await desk.get(`${api}?start=99`)).status).toBe(400);
});

test("without any entry it says that there is nothing to print", async () => {
  const page = await desk.visit(`/tags/file?sale=${sale.id}`);
  expect(page.status).toBe(404);
  expect(page.text).toContain("There is no tag to print");
});
