import { v7 } from "uuid";
import { afterAll, beforeAll, expect, test } from "vitest";
import { type Client, signedIn, startApp, type TestApp } from "../../support/app.ts";
import { buildThreeSales } from "../../support/build-three-sales.ts";
import { linksIn } from "../../support/html.ts";
import { pagesOf, wordsOf } from "../../support/pdf.ts";

let base: TestApp;
let guild: Awaited<ReturnType<typeof buildThreeSales>>;
let weaver: Client;
let other: Client;
beforeAll(async () => {
  base = await startApp();
  guild = await buildThreeSales(base.db);
  await base.db.item.updateMany({
    where: { memberId: guild.weaver.id },
    data: { colours: "Moss and straw" },
  });
  weaver = await signedIn(base, guild.weaver);
  other = await signedIn(base, guild.settled.other);
});
afterAll(() => base.close());

const read = (html: string) =>
  html
    .replace(/<[^>]+>/g, " ")
    .replace(/&#x27;/g, "'")
    .replace(/\s+/g, " ");
const note = {
  ...{ day: "2026-08-01", outlet: "Corner shop", kind: "towel", description: "Plain towel" },
  ...{ quantity: "3", price: "20.00", kept: "25 %", colours: "Blue", minutes: "1:30" },
};

test("the page shows charts beside tables, says who sees it and needs no script", async () => {
  await weaver.submit("/bench/elsewhere", note);
  const { status, text } = await weaver.visit("/bench/sold");
  expect(status).toBe(200);
  const page = read(text);
  for (const words of [
    ...["Only you see this page", "What to weave next", "Facts from your own sales, not advice"],
    ...["By sale and outlet", "By kind", "By main fibre", "By colour", "By price", "Green"],
    ...["Corner shop", "3 elsewhere", "gift to the guild", "$45.00"],
  ])
    expect(page).toContain(words);
  expect(text.match(/<svg xmlns/g)?.length).toBeGreaterThanOrEqual(5);
  expect(text).not.toMatch(/<script(?![^>]*\ssrc=)|\sstyle=/);
});

test("each bar leads to its pieces, which come to what the bar says", async () => {
  const { text } = await weaver.visit("/bench/sold");
  const bars = [...text.matchAll(/<a href="([^"]+)"><title>([^<]*): ([^<:]+)<\/title>/g)];
  expect(bars.length).toBeGreaterThanOrEqual(6);
  const inTables = linksIn(text);
  for (const [, href = "", , shown = ""] of bars) {
    const path = href.replaceAll("&amp;", "&");
    expect(inTables.filter((link) => link === path).length).toBeGreaterThanOrEqual(2);
    const page = read((await weaver.visit(path)).text);
    const sold = /Sold: (.*?), for/.exec(page)?.[1] ?? "";
    // A wait is told of sold pieces alone.
    const said = path.includes("pace=") ? sold.split(" of ")[0] : sold.replace(/ \(\d+ %\)/, "");
    expect([path, said]).toEqual([path, shown.trim()]);
  }
});

test("small counts are counts: no percentage below ten pieces", async () => {
  const page = read((await weaver.visit("/bench/sold")).text);
  expect(page).toMatch(/\d+ of \d+/);
  for (const [, whole = "", percent] of page.matchAll(/ of (\d+)( \(\d+ %\))?/g))
    expect([whole, percent !== undefined]).toEqual([
      whole,
      Number(whole) >= 10 && percent !== undefined,
    ]);
});

test("choices narrow it down by links and by a plain form, and odd ones answer in words", async () => {
  const sale = `sale:${guild.settled.sale.id}`;
  const { text } = await weaver.visit(`/bench/sold?where=${encodeURIComponent(sale)}`);
  expect(read(text)).toContain("4 of 5");
  expect(text).toMatch(new RegExp(`value="${sale}" selected`));
  expect(read((await weaver.visit("/bench/sold?kind=nothing")).text)).toContain("Nothing here");
  for (const odd of ["?where=%00", "?year=x&kind=", "?band=99&after=y", "?q=%25&fibre=a&fibre=b"])
    for (const path of ["/bench/sold", "/bench/sold/pieces"])
      expect([odd, (await weaver.visit(path + odd)).status]).toEqual([odd, 200]);
  const pieces = read((await weaver.visit("/bench/sold/pieces?q=towel&colour=blue")).text);
  expect(pieces).toContain("Plain towel");
  expect(pieces).not.toContain("Scarf 1");
  expect(read((await weaver.visit("/bench/sold/pieces?q=zebra")).text)).toContain(
    "No piece like that",
  );
});

test("what belongs to one member is nowhere on another's pages or in their files", async () => {
  for (const path of ["/bench/sold", "/bench/sold/pieces", "/bench/elsewhere"])
    expect(read((await other.visit(path)).text)).not.toMatch(/Corner shop|Plain towel/);
  for (const path of ["/bench/sold/pieces.csv", "/bench/elsewhere.csv"])
    expect((await other.visit(path)).text).not.toMatch(/Corner shop|Plain towel/);
  const fresh = await signedIn(base, guild.desk);
  expect(read((await fresh.visit("/bench/sold")).text)).toContain("Nothing to show yet");
  expect(read((await fresh.visit("/bench/sold/pieces")).text)).toContain("No piece yet");
});

test("all pieces and sales are there as CSV, with formulas disarmed", async () => {
  await weaver.submit("/bench/elsewhere", { ...note, description: "=1+1", outlet: "Fair, big" });
  const answer = await weaver.visit("/bench/sold/pieces.csv");
  expect(answer.headers["content-type"]).toBe("text/csv; charset=utf-8");
  const lines = answer.text.trimEnd().split("\r\n");
  expect(lines[0]).toContain("sale or outlet,elsewhere,first day,sold on,tag,description");
  expect(lines).toContain(
    "Corner shop,yes,2026-08-01,2026-08-01,,Plain towel,Towel,,blue,20.00,0,3,no,60.00,15.00,45.00,0.00,,90,,10.00",
  );
  expect(answer.text).toContain(`"Fair, big",yes,2026-08-01,2026-08-01,,'=1+1,Towel`);
  const items = await base.db.item.count({
    where: {
      memberId: guild.weaver.id,
      sale: { stage: { in: ["selling", "settling", "closed"] } },
    },
  });
  expect(lines.length).toBeGreaterThan(items);
  const away = await weaver.visit("/bench/elsewhere.csv");
  expect(away.text).toContain(
    "2026-08-01,Corner shop,Towel,Plain towel,Blue,3,20.00,15.00,45.00,90,,no",
  );
});

test("the summary on paper says the same", async () => {
  const answer = await weaver.visit("/bench/sold/summary.pdf").buffer(true);
  expect(answer.headers["content-type"]).toBe("application/pdf");
  const pages = await pagesOf(answer.body);
  const words = (await Promise.all(pages.map(wordsOf))).join(" ");
  for (const text of [
    ...["What sold", `Member ${guild.weaver.number} ${guild.weaver.name}`, "By sale and outlet"],
    ...["Corner shop", "What to weave next", `page 1 of ${pages.length}`],
  ])
    expect(words).toContain(text);
});

test("the API gives the same figures, pieces page by page, and only one's own", async () => {
  const { body } = await weaver.get("/api/me/sold");
  const results = (await weaver.get("/api/me/results")).body.sales as {
    saleId: string;
    gross: number;
    sold: number;
  }[];
  for (const { saleId, gross, sold } of results) {
    const group = body.groups.where.find(({ key }: { key: string }) => key === `sale:${saleId}`);
    if (group) expect(group.figures).toMatchObject({ takings: gross, soldHere: sold });
    else expect(gross).toBe(0);
  }
  const seen: { key: string; sold: number }[] = [];
  for (let after: string | null = ""; after !== null; ) {
    const page: { items: typeof seen; next: string | null } = (
      await weaver.get(`/api/me/sold/pieces?limit=2&after=${after}`)
    ).body;
    seen.push(...page.items);
    after = page.next;
  }
  expect(new Set(seen.map(({ key }) => key)).size).toBe(seen.length);
  expect(seen.reduce((sum, { sold }) => sum + sold, 0)).toBe(body.all.sold);
  const only = (await weaver.get("/api/me/sold?where=outlet:Corner%20shop")).body;
  expect(only.all).toMatchObject({ sold: 3, takings: 6_000, kept: 1_500, left: 4_500 });
  expect((await other.get("/api/me/sold?where=outlet:Corner%20shop")).body.all.sold).toBe(0);
  expect((await weaver.get("/api/me/sold/pieces.csv")).text).toContain("Plain towel");
  expect((await weaver.get("/api/me/elsewhere.csv")).text).toContain("Plain towel");
  const paper = await weaver.get("/api/me/sold/summary.pdf").buffer(true);
  expect(await wordsOf((await pagesOf(paper.body))[0]!)).toContain("Corner shop");
});

test("hours are noted on the piece's own page, by its member alone, and come back when wrong", async () => {
  const item = await base.db.item.findFirstOrThrow({ where: { memberId: guild.weaver.id } });
  const wrong = await weaver.submit(`/items/${item.id}/making`, {
    minutes: "soon",
    materials: "6",
  });
  expect(wrong.status).toBe(400);
  expect(wrong.text).toContain('value="soon"');
  expect(wrong.text).toContain('value="6"');
  const noted = await weaver.submit(`/items/${item.id}/making`, {
    minutes: "2:30",
    materials: "6",
  });
  expect(noted.headers.location).toBe(`/items/${item.id}`);
  expect((await weaver.visit(`/items/${item.id}`)).text).toContain('value="2:30"');
  const desk = await signedIn(base, guild.desk);
  const chair = await signedIn(base, guild.chair);
  for (const person of [desk, chair, other]) {
    const { text } = await person.visit(`/items/${item.id}`);
    expect(text).not.toMatch(/2:30|What one took to make/);
    const tried = await person.submit(`/items/${item.id}/making`, { minutes: "1" });
    expect(tried.status).toBe(404);
    const put = await person.put(`/api/items/${item.id}/making`, { minutes: 60 });
    expect(put.status).toBe(404);
  }
  const put = await weaver.put(`/api/items/${item.id}/making`, { minutes: 45, materials: null });
  expect(put.body).toEqual({ itemId: item.id, minutes: 45, materials: null });
  const row = await base.db.itemMaking.findUniqueOrThrow({ where: { itemId: item.id } });
  expect([row.minutes, row.materials]).toEqual([45, null]);
  expect((await weaver.put(`/api/items/${v7()}/making`, { minutes: 45 })).status).toBe(404);
});
