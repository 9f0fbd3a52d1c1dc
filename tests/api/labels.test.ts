import { v7 } from "uuid";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { type Client, signedIn, startApp, type TestApp } from "../support/app.ts";
import { buildGuild, buildMember, buildSale } from "../support/build.ts";
import { early, enter } from "../support/build-items.ts";

let base: TestApp;
let member: Awaited<ReturnType<typeof buildMember>>;
let own: Client;
let other: Client;
let sale: { id: string };

beforeAll(async () => {
  base = await startApp();
  await buildGuild(base.db);
  member = await buildMember(base.db);
  own = await signedIn(base, member);
  other = await signedIn(base, await buildMember(base.db));
  sale = await buildSale(base.db);
  base.at(early);
});
afterAll(() => base.close());

const preview = (body: object) => own.post("/api/labels/preview", body);
const cotton97 = [
  { fibre: "cotton", percent: 97 },
  { fibre: "spandex", percent: 3 },
];

describe("a preview", () => {
  test("gives text, symbols, reasons and sources, and keeps nothing", async () => {
    const before = await base.db.audit.count();
    const answer = await preview({
      kind: "towel",
      fibres: [
        { fibre: "cotton", percent: 60 },
        { fibre: "linen", percent: 40 },
      ],
    });
    expect(answer.status).toBe(200);
    expect(answer.body.fibre.lines).toEqual([
      { text: "60% Cotton, 40% Linen", languages: ["en-US"] },
    ]);
    expect(answer.body.care.symbols).toEqual({
      set: "astm",
      codes: [
        "wash:machine-40",
        "bleach:non-chlorine",
        "dry:tumble-low",
        "iron:3",
        "professional:P",
      ],
    });
    expect(answer.body.reasons).toContainEqual(
      expect.objectContaining({ about: "fibre", source: expect.stringContaining("303.16") }),
    );
    expect(await base.db.audit.count()).toBe(before);
    expect(await base.db.item.count()).toBe(0);
  });

  // The forms are those of the Competition Bureau's guidance on C.R.C. c. 1551.
  test("follows another country's rules when asked", async () => {
    const named = await preview({
      fibres: cotton97,
      jurisdiction: "canada",
      label: { smallFibres: "named" },
    });
    expect(named.body.fibre.lines[0].text).toBe("97% Cotton / Coton, 3% Spandex / Spandex");
    const lumped = await preview({
      fibres: cotton97,
      jurisdiction: "canada",
      label: { smallFibres: "lumped" },
    });
    expect(lumped.body.fibre.lines[0].text).toBe(
      "97% Cotton / Coton, 3% Other fibre / Autre fibre",
    );
    const us = await preview({ fibres: cotton97 });
    expect(us.body.fibre.lines[0].text).toBe("97% Cotton, 3% Other Fiber");
  });

  test("answers what the law refuses with its rule and field", async () => {
    const answer = await preview({
      kind: "scarf",
      title: "Silk scarf",
      fibres: [{ fibre: "wool", percent: 100 }],
      label: { care: { chosen: { wash: "machine-60" }, tested: false } },
      maker: { businessName: "Member 142" },
    });
    expect(answer.status).toBe(200);
    expect(answer.body.refusals).toEqual([
      expect.objectContaining({ about: "care", field: "label.care.tested" }),
    ]);
    const warned = answer.body.warnings.map(({ about }: { about: string }) => about);
    expect(warned).toEqual(expect.arrayContaining(["title", "identity", "origin"]));
  });

  test("compares a text somebody wrote with the lawful one", async () => {
    const fibres = [{ fibre: "bamboo-rayon", percent: 100 }];
    const wrong = await preview({ fibres, typed: "100% Bamboo" });
    expect(wrong.body.refusals.map(({ field }: { field: string }) => field)).toContain("typed");
    const lawful = wrong.body.fibre.lines[0].text;
    expect((await preview({ fibres, typed: lawful })).body.refusals).toEqual([]);
  });

  test.each<[string, object, string]>([
    ["no fibre", { fibres: [] }, "fibres"],
    ["a fibre of our own", { fibres: [{ fibre: "moonlight", percent: 100 }] }, "fibres.0.fibre"],
    ["a share below zero", { fibres: [{ fibre: "wool", percent: -5 }] }, "fibres.0.percent"],
    ["half a percent", { fibres: [{ fibre: "wool", percent: 99.5 }] }, "fibres.0.percent"],
    ["a word for a number", { fibres: [{ fibre: "wool", percent: "all" }] }, "fibres.0.percent"],
    ["shares that make 90", { fibres: [{ fibre: "wool", percent: 90 }] }, "fibres"],
    ["a made-up country", { fibres: cotton97, jurisdiction: "atlantis" }, "jurisdiction"],
    ["a language that law lacks", { fibres: cotton97, languages: ["fr"] }, "languages"],
    ["too long a title", { fibres: cotton97, title: "x".repeat(61) }, "title"],
    [
      "an answer no list offers",
      { kind: "scarf", fibres: cotton97, label: { answers: { surface: "fluffy" } } },
      "label.answers.surface",
    ],
    [
      "a care level of our own",
      { fibres: cotton97, label: { care: { chosen: { wash: "boil" } } } },
      "label.care.chosen.wash",
    ],
  ])("%s is refused, and the field is named", async (_words, body, field) => {
    const answer = await preview(body);
    expect(answer.status).toBe(400);
    expect(answer.body.errors.map((error: { field: string }) => error.field)).toContain(field);
  });

  test("is for those who are signed in", async () => {
    const gone = await signedIn(base, member);
    await base.db.session.update({ where: { id: gone.sessionId }, data: { endedAt: new Date() } });
    expect((await gone.post("/api/labels/preview", { fibres: cotton97 })).status).toBe(401);
  });
});

test("packs, fibres and questions can be listed", async () => {
  const packs = await own.get("/api/labels/packs");
  expect(packs.body.items.map(({ code }: { code: string }) => code)).toEqual([
    "us",
    "canada",
    "eu",
    "uk",
    "australia",
  ]);
  const fibres = await own.get("/api/labels/fibres");
  expect(fibres.body.items).toContainEqual({ code: "wool", name: "Wool", family: "wool" });
  expect((await own.get("/api/labels/questions?kind=towel")).body.items).toEqual([]);
  const toy = await own.get("/api/labels/questions?kind=toy");
  expect(toy.body.items.map(({ code }: { code: string }) => code)).toContain("small-parts");
});

describe("an item's answers", () => {
  const answersOf = (id: string, version: number, more: object = {}) => ({
    path: `/api/items/${id}/answers`,
    body: { version, answers: { surface: "raised" }, cloth: null, ...more },
  });

  test("change what is printed and what the desk does; the same key does it once", async () => {
    const { id } = await enter(base.db, member, sale, {
      fibres: [{ fibre: "cotton", percent: 100 }],
    });
    const { path, body } = answersOf(id, 1);
    const key = v7();
    const both = await Promise.all([own.put(path, body, key), own.put(path, body, key)]);
    expect(both.map(({ status }) => status)).toEqual([200, 200]);
    expect((await own.get(`/api/items/${id}`)).body.version).toBe(2);
    const label = (await own.get(`/api/items/${id}/label`)).body;
    expect(label.caution.outcome).toBe("hold");
    expect(label.caution.lines[0].text).toBe("Keep away from flame.");
  });

  test("two people at once: one is kept, the other is told", async () => {
    const { id } = await enter(base.db, member, sale);
    const { path, body } = answersOf(id, 1);
    const both = await Promise.all([
      own.put(path, body),
      own.put(path, { ...body, answers: { surface: "open" } }),
    ]);
    expect(both.map(({ status }) => status).sort()).toEqual([200, 409]);
  });

  test("a wrong answer, a foreign item and one that has come are refused", async () => {
    const { id } = await enter(base.db, member, sale);
    const wrong = answersOf(id, 1, { answers: { surface: "fluffy" } });
    const answer = await own.put(wrong.path, wrong.body);
    expect(answer.status).toBe(400);
    expect(answer.body.errors[0].field).toBe("answers.surface");
    const { path, body } = answersOf(id, 1);
    expect((await other.put(path, body)).status).toBe(404);
    expect((await other.get(`/api/items/${id}/label`)).status).toBe(404);
    expect(
      (await own.put(path, { ...body, cloth: { milligrams: 0, length: 1, width: 1 } })).status,
    ).toBe(400);
  });
});

describe("details that come with an item", () => {
  const entry = (label: object, more: object = {}) =>
    own.post(`/api/sales/${sale.id}/items`, {
      kind: "towel",
      description: "Towel",
      price: 4_500,
      fibres: [{ fibre: "wool", percent: 100 }],
      label,
      agreementVersion: 1,
      ...more,
    });

  test("who tested harder care, and when, is kept; a client cannot say so itself", async () => {
    const care = { chosen: { wash: "machine-40" }, tested: true };
    const made = await entry({ care });
    expect(made.status).toBe(201);
    expect(made.body.label.care).toEqual({
      ...care,
      testedBy: `${member.number} ${member.name}`,
      testedAt: early.toISOString(),
    });
    const forged = await entry({ care: { ...care, testedBy: "somebody else" } });
    expect(forged.status).toBe(400);
    const untested = await entry({ care: { ...care, tested: false } });
    expect(untested.status).toBe(400);
    expect(untested.body.errors[0].field).toBe("label.care.tested");
  });

  test("an edit without them leaves them as they are", async () => {
    const { body } = await entry({ finishes: ["fulled"] });
    const { kind, description, fibres, price, version } = body;
    const edited = await own.patch(`/api/items/${body.id}`, {
      kind,
      description,
      fibres,
      price: price + 500,
      version,
    });
    expect(edited.status).toBe(200);
    expect(edited.body.label.finishes).toEqual(["fulled"]);
  });

  test("yarns take the place of percentages", async () => {
    const yarn = {
      place: "warp",
      amount: { unit: "g", thousandths: 90_000 },
      blend: [{ fibre: "cotton", percent: 100 }],
    };
    const made = await entry({ yarns: [yarn] }, { fibres: [] });
    expect(made.status).toBe(201);
    const both = await entry({ yarns: [yarn] });
    expect(both.body.errors[0].field).toBe("fibres");
    const noNumber = await entry(
      { yarns: [{ ...yarn, amount: { unit: "m", thousandths: 9_000 } }] },
      { fibres: [] },
    );
    expect(noNumber.body.errors[0].field).toBe("label.yarns.0.number");
  });
});
