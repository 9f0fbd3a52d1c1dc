import { v7 } from "uuid";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { type Client, signedIn, startApp, type TestApp } from "../support/app.ts";
import { buildGuild, buildMember, buildSale } from "../support/build.ts";
import { enter } from "../support/build-items.ts";
import { errorLinks } from "../support/html.ts";
import { pagesOf, readBars } from "../support/pdf.ts";

let base: TestApp;
let desk: Client;
let member: Client;
let itemId: string;

beforeAll(async () => {
  base = await startApp();
  await buildGuild(base.db);
  const weaver = await buildMember(base.db);
  member = await signedIn(base, weaver);
  desk = await signedIn(base, await buildMember(base.db, ["desk"]));
  itemId = (await enter(base.db, weaver, await buildSale(base.db))).id;
});
afterAll(() => base.close());

const sheet = (more: Record<string, string> = {}) => ({
  name: "copy-shop",
  words: "A4, 8 cards from the copy shop",
  purpose: "tag",
  unit: "mm",
  "media.kind": "sheet",
  "media.paper.width": "210",
  "media.paper.height": "297",
  "media.margin.left": "10",
  "media.margin.top": "10",
  "media.columns": "2",
  "media.rows": "4",
  "media.pitch.across": "95",
  "media.pitch.down": "69",
  "label.width": "90",
  "label.height": "60",
  corner: "0",
  ...more,
});

describe("stocks of the guild's own", () => {
  test("are added once per key, printed on, changed from the version seen, and retired", async () => {
    const key = v7();
    const both = await Promise.all([
      desk.submit("/stocks", sheet(), key),
      desk.submit("/stocks", sheet(), key),
    ]);
    expect(both.map(({ status }) => status)).toEqual([303, 303]);
    const [stock, ...more] = await base.db.labelStock.findMany();
    expect(more).toEqual([]);
    expect((await desk.visit("/stocks")).text).toContain("8 cards from the copy shop");
    const print = await member.submit("/tags/prints", {
      item: itemId,
      stock: stock!.id,
      which: "all",
    });
    const file = await member.visit(`${print.headers.location}/file`).responseType("blob");
    const [page] = await pagesOf(file.body as Uint8Array);
    expect(await readBars(page!, 203)).toHaveLength(1);
    const path = `/stocks/${stock!.id}`;
    expect((await desk.visit(path)).text).toContain('value="69"');
    expect((await desk.submit(path, sheet({ version: "1", corner: "2" }))).status).toBe(303);
    expect((await desk.submit(path, sheet({ version: "1", corner: "3" }))).status).toBe(409);
    expect((await desk.submit(`${path}/retirement`)).status).toBe(303);
    expect((await desk.visit(path)).status).toBe(404);
    const gone = await member.submit("/tags/prints", {
      item: itemId,
      stock: stock!.id,
      which: "all",
    });
    expect(gone.status).toBe(400);
  });

  test("may be typed in inches", async () => {
    const inches = sheet({
      name: "in",
      unit: "in",
      "media.paper.width": "8.5",
      "media.paper.height": "11",
      "media.margin.left": "0.75",
      "media.margin.top": "0.5",
      "media.rows": "5",
      "media.pitch.across": "3.5",
      "media.pitch.down": "2",
      "label.width": "3.5",
      "label.height": "2",
    });
    expect((await desk.submit("/stocks", inches)).status).toBe(303);
    const { shape } = await base.db.labelStock.findFirstOrThrow({ where: { name: "in" } });
    expect(shape).toMatchObject({
      label: { width: 88.9, height: 50.8 },
      media: { paper: { width: 215.9 } },
    });
  });

  test.each<[string, Record<string, string>, string]>([
    ["no name", { name: "" }, "name"],
    ["words for a length", { "label.width": "wide" }, "label.width"],
    ["a length below zero", { "label.width": "-90" }, "label.width"],
    ["no columns", { "media.columns": "" }, "media.columns"],
    ["labels that overlap", { "media.pitch.across": "80" }, "media.pitch.across"],
    ["labels beyond the paper", { "media.rows": "5" }, "media.rows"],
    ["no room for the bars", { "label.width": "20", "media.pitch.across": "20" }, "label.width"],
    ["a hole outside", { "hole.diameter": "4", "hole.x": "0", "hole.y": "10" }, "hole.x"],
    ["a purpose of our own", { purpose: "gift wrap" }, "purpose"],
  ])("%s is refused at its field, and what was typed stays", async (_words, more, field) => {
    const before = await base.db.labelStock.count();
    const page = await desk.submit("/stocks", sheet(more));
    expect(page.status).toBe(400);
    expect(errorLinks(page.text)).toContain(field);
    expect(page.text).toContain("8 cards from the copy shop");
    expect(await base.db.labelStock.count()).toBe(before);
  });

  test("start from one of the usual ones, each with a ruler sheet", async () => {
    expect((await desk.visit("/stocks/new?like=hang-tag")).text).toContain('value="88.9"');
    const ruler = await desk.visit("/stocks/hang-tag/ruler.pdf").responseType("blob");
    expect(ruler.headers["content-type"]).toBe("application/pdf");
    expect((await desk.visit("/stocks/napkin/ruler.pdf")).status).toBe(404);
    expect((await desk.visit("/stocks/new?like=napkin")).status).toBe(404);
  });

  test("are not a member's to change", async () => {
    expect((await member.visit("/stocks")).status).toBe(403);
    expect((await member.submit("/stocks", sheet())).status).toBe(403);
    expect((await member.post("/api/label-stocks", {})).status).toBe(403);
  });
});

describe("printers", () => {
  const printer = (more: Record<string, string> = {}) => ({
    name: "Office printer",
    nudgeX: "-1.5",
    nudgeY: "0.25",
    scaleX: "100.5",
    scaleY: "",
    ...more,
  });

  test("keep how far they are off, and prints follow it", async () => {
    expect((await desk.submit("/printers", printer())).status).toBe(303);
    const kept = await base.db.printer.findFirstOrThrow();
    expect(kept).toMatchObject({ nudgeX: -1_500, nudgeY: 250, scaleX: 1_005, scaleY: 1_000 });
    expect((await desk.visit(`/printers/${kept.id}`)).text).toContain('value="-1.5"');
    const print = await member.submit("/tags/prints", {
      ...{ item: itemId, stock: "letter-10", which: "all", printer: kept.id },
    });
    expect(print.status).toBe(303);
    const job = await base.db.printJob.findFirstOrThrow({ orderBy: { createdAt: "desc" } });
    expect(job.options).toMatchObject({
      calibration: { nudgeX: -1.5, nudgeY: 0.25, scaleX: 1_005 },
    });
    const path = `/printers/${kept.id}`;
    expect((await desk.submit(path, printer({ version: "1", nudgeX: "1" }))).status).toBe(303);
    expect((await desk.submit(path, printer({ version: "1" }))).status).toBe(409);
    expect((await desk.submit(`${path}/retirement`)).status).toBe(303);
    expect((await desk.visit(path)).status).toBe(404);
  });

  test.each<[string, Record<string, string>, string]>([
    ["too far", { nudgeX: "16" }, "nudgeX"],
    ["words", { nudgeY: "a little" }, "nudgeY"],
    ["half as large", { scaleX: "50" }, "scaleX"],
    ["finer than can be kept", { scaleY: "100.05" }, "scaleY"],
    ["no name", { name: " " }, "name"],
  ])("%s is refused at its field", async (_words, more, field) => {
    const page = await desk.submit("/printers", printer(more));
    expect(page.status).toBe(400);
    expect(errorLinks(page.text)).toEqual([field]);
  });
});

test("the API lists, adds, changes and retires the same", async () => {
  const usual = await member.get("/api/label-stocks");
  expect(usual.body.items.map(({ stock }: { stock: string }) => stock)).toContain("roll-58");
  const {
    stock: _stock,
    version: _version,
    ...like
  } = usual.body.items.find(({ stock }: { stock: string }) => stock === "a4-21");
  const made = await desk.post("/api/label-stocks", { ...like, name: "ours" });
  expect(made.status).toBe(201);
  const change = { ...like, name: "ours", version: 1 };
  const path = `/api/label-stocks/${made.body.id}`;
  const both = await Promise.all([
    desk.put(path, change),
    desk.put(path, { ...change, corner: 1 }),
  ]);
  expect(both.map(({ status }) => status).sort()).toEqual([200, 409]);
  const wrong = await desk.post("/api/label-stocks", {
    ...like,
    label: { width: 300, height: 38.1 },
  });
  expect(wrong.status).toBe(400);
  expect((await desk.post(`${path}/retirement`)).status).toBe(201);
  expect((await desk.post(`${path}/retirement`)).status).toBe(404);
  const printer = await desk.post("/api/printers", { name: "Hall", nudgeX: 500 });
  expect(printer.status).toBe(201);
  const printerPath = `/api/printers/${printer.body.id}`;
  expect((await desk.put(printerPath, { name: "Hall", version: 1, scaleX: 990 })).status).toBe(200);
  expect((await member.get("/api/printers")).body.items[0]).toMatchObject({
    scaleX: 990,
    version: 2,
  });
  expect((await desk.post(`${printerPath}/retirement`)).status).toBe(201);
});
