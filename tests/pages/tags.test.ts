import { v7 } from "uuid";
import { afterAll, beforeAll, expect, test } from "vitest";
import { emptyDetails } from "../../src/rules/labels/details.ts";
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

/** Asks for a print as the form does and gives the address of its page. */
async function ask(client: Client, fields: Record<string, string>, key?: string): Promise<string> {
  const given = { stock: "letter-10", which: "all", ...fields };
  const answer = await client.submit("/tags/prints", given, key);
  expect(answer.status).toBe(303);
  return String(answer.headers.location);
}

async function barsOf(client: Client, path: string): Promise<string[]> {
  const answer = await client.visit(path).responseType("blob");
  expect(answer.headers["content-type"]).toBe("application/pdf");
  const found: string[] = [];
  for (const page of await pagesOf(answer.body as Uint8Array))
    found.push(...(await readBars(page, 203)).map(({ text }) => text));
  return found.sort();
}

const printed = async (client: Client, fields: Record<string, string>) =>
  barsOf(client, `${await ask(client, fields)}/file`);

test("a member prints every tag of one's own and no withdrawn one, a tag for each alike piece", async () => {
  expect(await printed(own, { sale: sale.id, each: "yes" })).toEqual(tags.slice(0, 3));
  expect(await printed(own, { sale: sale.id })).toEqual([tags[0], tags[2]]);
});

test("one item, on any sheet, from any label that is not used up", async () => {
  for (const stock of ["letter-10", "a4-21", "a4-24"])
    expect(await printed(own, { item: itemId, stock, start: "5", skip: "6, 8-9" })).toEqual([
      tags[0],
    ]);
});

test("the words on it are the item's own", async () => {
  const path = `${await ask(own, { item: itemId, stock: "letter-10" })}/file`;
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

test("the desk prints a member's or everybody's; the API shows the same", async () => {
  const member100 = { sale: sale.id, whose: "member", member: String(member.number) };
  expect(await printed(desk, member100)).toEqual([tags[0], tags[2]]);
  expect(await printed(desk, { sale: sale.id, whose: "sale", each: "yes" })).toEqual(tags);
  expect(await barsOf(desk, `/api/sales/${sale.id}/tags.pdf`)).toEqual(tags);
  expect(await barsOf(own, `/api/sales/${sale.id}/tags.pdf?each=no`)).toEqual([tags[0], tags[2]]);
});

test("care strips are a print of their own", async () => {
  const page = await own.visit(`/tags?sale=${sale.id}&what=care-strip`);
  expect(page.text).toContain("Care strips");
  expect(page.text).toContain("the law wants care words that stay on the piece for good");
  const path = await ask(own, { sale: sale.id, what: "care-strip", stock: "care-strip" });
  const answer = await own.visit(`${path}/file`).responseType("blob");
  const [strip] = await pagesOf(answer.body as Uint8Array);
  const words = await wordsOf(strip!);
  expect(words).toContain("80% Wool");
  expect(words).toContain("Alder Creek Weavers");
  expect(words).not.toContain("$45.00");
});

test("the choice shows a picture of the label and the stock for the guild's paper", async () => {
  const page = await own.visit("/tags");
  expect(page.text).toMatch(/<option value="letter-10" selected>/);
  const picture = await own.visit(`/tags/picture.svg?item=${itemId}&stock=letter-10`);
  expect(picture.headers["content-type"]).toContain("image/svg+xml");
  expect(picture.body.toString()).toMatch(/^<svg .*<title>Label 100-001-/);
  expect((await own.visit(`/tags/picture.svg?item=${itemId}&stock=napkin`)).status).toBe(404);
  expect((await other.visit(`/tags/picture.svg?item=${itemId}&stock=letter-10`)).status).toBe(404);
});

test("a stock without room says what is missing and what would fit, and prints nothing", async () => {
  const long = await enter(base.db, member, sale, {
    label: {
      ...emptyDetails,
      finishes: ["hand-dyed", "not-washed-yet"],
      answers: { surface: "raised" },
      origin: { craft: "woven", materials: "mixed", madeAbroadIn: "" },
    },
    fibres: [
      { fibre: "cotton", percent: 60 },
      { fibre: "silk", percent: 40 },
    ],
  });
  const path = await ask(own, { item: long.id, stock: "letter-30" });
  const page = await own.visit(path);
  expect(page.text).toContain("Nothing was printed");
  expect(page.text).toContain("10 cards");
  expect((await own.visit(`${path}/file`)).status).toBe(404);
  const counts = await own.get(`/api/sales/${sale.id}/prints/counts`);
  expect(counts.body.new).toBe(1);
  const second = await ask(own, { item: long.id, stock: "letter-30", second: "yes" });
  expect((await own.visit(second)).text).toContain("Open the file");
  await base.db.item.update({ where: { id: long.id }, data: { withdrawnAt: new Date() } });
});

test.each<[Record<string, string>, string]>([
  [{ start: "0" }, "start"],
  [{ start: "11" }, "start"],
  [{ start: "two" }, "start"],
  [{ start: "1.5" }, "start"],
  [{ skip: "three" }, "skip"],
  [{ skip: "9-3" }, "skip"],
  [{ skip: "1-10" }, "skip"],
  [{ skip: "44" }, "skip"],
  [{ stock: "napkin" }, "stock"],
  [{ stock: "care-strip" }, "stock"],
  [{ which: "some" }, "which"],
  [{ code: "runes" }, "code"],
  [{ printer: "nobody" }, "printer"],
  [{ whose: "member", member: "" }, "member"],
  [{ whose: "member", member: "9998" }, "member"],
])("%j is refused, and the field is named", async (fields, field) => {
  const given = { sale: sale.id, stock: "letter-10", which: "all", ...fields };
  const page = await desk.submit("/tags/prints", given);
  expect(page.status).toBe(400);
  expect(page.text).toContain(`href="#f-${field}"`);
});

test("nobody prints another member's tags, and an unknown sale or item is not there", async () => {
  const theirs = {
    sale: sale.id,
    whose: "member",
    member: String(member.number),
    stock: "letter-10",
  };
  expect((await other.submit("/tags/prints", theirs)).status).toBe(400);
  expect((await other.submit("/tags/prints", { item: itemId, stock: "letter-10" })).status).toBe(
    404,
  );
  expect((await other.submit("/tags/prints", { sale: v7(), stock: "letter-10" })).status).toBe(404);
  const path = await ask(own, { item: itemId });
  for (const part of ["", "/file"]) expect((await other.visit(path + part)).status).toBe(404);
  expect((await other.submit(`${path}/cancellation`)).status).toBe(404);
  expect((await desk.visit(path)).status).toBe(200);
  const api = `/api/sales/${sale.id}/tags.pdf`;
  expect((await other.get(`${api}?member=${member.number}`)).status).toBe(404);
  expect((await other.get(`${api}?item=${itemId}`)).status).toBe(404);
  expect((await desk.get(`${api}?start=99`)).status).toBe(400);
});

test("without any entry it says that there is nothing to print", async () => {
  const page = await desk.submit("/tags/prints", { sale: sale.id, stock: "letter-10" });
  expect(page.status).toBe(404);
  expect(page.text).toContain("There is no tag to print");
});
