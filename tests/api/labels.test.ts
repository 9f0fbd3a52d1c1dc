import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { type Client, signedIn, startApp, type TestApp } from "../support/app.ts";
import { buildGuild, buildMember } from "../support/build.ts";

let base: TestApp;
let member: Awaited<ReturnType<typeof buildMember>>;
let own: Client;

beforeAll(async () => {
  base = await startApp();
  await buildGuild(base.db);
  member = await buildMember(base.db);
  own = await signedIn(base, member);
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

  test("of soap asks for no fibres and no yarn", async () => {
    const answer = await preview({ kind: "soap" });
    expect(answer.status).toBe(200);
    expect(answer.body.refusals).toEqual([]);
    expect(answer.body.origin).toEqual([]);
    expect(answer.body.warnings).toEqual([]);
    expect(answer.body.caution.unanswered).toEqual(["candle-or-soap"]);
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

test("the questions of a guild's own kind are those of the group it was put in", async () => {
  await base.db.kind.create({
    data: { code: "tea-hat", name: "Tea hat", position: 900, labelGroup: "cosy" },
  });
  const asked = async (kind: string) => {
    const { body } = await own.get(`/api/labels/questions?kind=${kind}`);
    return body.items.map(({ code }: { code: string }) => code);
  };
  expect(await asked("tea-hat")).toContain("microwave");
  expect(await asked("tea-hat")).toEqual(await asked("cosy"));
  expect((await own.get("/api/labels/questions?kind=%00")).status).toBe(400);
});
