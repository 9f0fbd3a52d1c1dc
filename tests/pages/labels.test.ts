import { afterAll, beforeAll, describe, expect, test } from "vitest";
import type { Client, TestApp } from "../support/app.ts";
import { type Member, startAtEntry } from "../support/at-entry.ts";
import { enter } from "../support/build-items.ts";
import { errorLinks } from "../support/html.ts";

let base: TestApp;
let member: Member;
let own: Client;
let sale: { id: string };

beforeAll(async () => {
  ({ base, member, own, sale } = await startAtEntry());
});
afterAll(() => base.close());

const filled = (more: object = {}) => ({
  sale: sale.id,
  kind: "towel",
  description: "Striped towel",
  price: "45.00",
  "fibres.0.fibre": "cotton",
  agreementVersion: "1",
  ...more,
});
const lastItem = () =>
  base.db.item.findFirstOrThrow({ where: { memberId: member.id }, orderBy: { number: "desc" } });

describe("more about the label", () => {
  test("is kept with the piece, shown on its page and stands in the form again", async () => {
    const answer = await own.submit(
      "/items",
      filled({
        "fibres.0.percent": "60",
        "fibres.0.brand": "Marlowe",
        "fibres.3.fibre": "linen",
        "fibres.3.percent": "40",
        "label.finishes": ["pre-washed", "hand-dyed"],
        "label.origin.materials": "imported",
        "label.care.wash": "hand-30",
      }),
    );
    expect(answer.headers.location).toBe(`/items?sale=${sale.id}`);
    const { id, labelDetails } = await lastItem();
    expect(labelDetails).toMatchObject({
      finishes: ["pre-washed", "hand-dyed"],
      origin: { materials: "imported" },
      care: { chosen: { wash: "hand-30" }, tested: false },
    });
    const page = await own.visit(`/items/${id}`);
    for (const words of [
      "60% Cotton (Marlowe), 40% Linen",
      "Hand wash cold.",
      "Woven in USA of imported yarn",
      "Alder Creek Weavers",
      "Why it says so",
      "16 CFR 303.33",
    ])
      expect(page.text).toContain(words);
    const form = await own.visit(`/items/${id}/edit`);
    expect(form.text).toContain('value="Marlowe"');
    expect(form.text).toMatch(/value="hand-dyed" checked/);
    expect(form.text).toMatch(/<option value="imported" selected>/);
  });

  test("works the fibres out from warp and weft, by weight or by length", async () => {
    const yarn = (row: number, fibre: string, amount: string, unit: string) => ({
      [`label.yarns.${row}.place`]: row === 0 ? "warp" : "weft",
      [`label.yarns.${row}.amount`]: amount,
      [`label.yarns.${row}.unit`]: unit,
      [`label.yarns.${row}.blend.0.fibre`]: fibre,
    });
    const woven = (metres: string) =>
      filled({
        "fibres.0.fibre": "",
        ...yarn(0, "cotton", "300", "g"),
        ...yarn(2, "linen", metres, "m"),
        "label.yarns.2.number": "50",
        "label.yarns.2.plies": "1",
        "label.yarns.2.system": "tex",
      });
    // 4000 m of 50 tex (grams in 1000 m, ISO 1144) weigh 200 g.
    expect((await own.submit("/items", woven("4000"))).status).toBe(303);
    const { id, fibres } = await lastItem();
    expect(fibres).toEqual([]);
    expect((await own.visit(`/items/${id}`)).text).toContain("60% Cotton, 40% Linen");
    expect((await own.visit(`/items/${id}/edit`)).text).toContain('value="4000"');
    // A fifth of a milligram beside 300 g is no share that can be printed.
    const tooLittle = await own.submit("/items", woven("0.004"));
    expect(errorLinks(tooLittle.text)).toEqual(["label.yarns"]);
  });

  test.each<[string, Record<string, unknown>, string[]]>([
    ["harder care without a test", { "label.care.wash": "machine-60" }, ["label.care.tested"]],
    ["a brand alone", { "fibres.0.brand": "Silkena silk" }, ["fibres"]],
    [
      "yarns beside percentages",
      {
        "label.yarns.1.amount": "10",
        "label.yarns.1.unit": "g",
        "label.yarns.1.place": "warp",
        "label.yarns.1.blend.0.fibre": "cotton",
      },
      ["fibres"],
    ],
    [
      "a length without a number, in its row",
      {
        "fibres.0.fibre": "",
        "label.yarns.1.amount": "10",
        "label.yarns.1.unit": "yd",
        "label.yarns.1.place": "warp",
        "label.yarns.1.blend.0.fibre": "cotton",
      },
      ["label.yarns.1.number"],
    ],
    [
      "words for a weight",
      {
        "fibres.0.fibre": "",
        "label.yarns.0.amount": "some",
        "label.yarns.0.unit": "g",
        "label.yarns.0.place": "warp",
        "label.yarns.0.blend.0.fibre": "cotton",
      },
      ["label.yarns.0.amount"],
    ],
    [
      "a lining that makes 90",
      {
        "label.parts.0.section": "lining",
        "label.parts.0.fibres.1.fibre": "silk",
        "label.parts.0.fibres.1.percent": "50",
        "label.parts.0.fibres.2.fibre": "cotton",
        "label.parts.0.fibres.2.percent": "40",
      },
      ["label.parts.0.fibres"],
    ],
    ["an origin of our own", { "label.origin.materials": "the moon" }, ["label.origin.materials"]],
    ["a finish of our own", { "label.finishes": "enchanted" }, ["label.finishes.0"]],
  ])("%s is refused at its field, and what was typed stays", async (_words, more, fields) => {
    const before = await base.db.item.count();
    const answer = await own.submit("/items", filled({ size: "20 x 30", ...more }));
    expect(answer.status).toBe(400);
    expect(errorLinks(answer.text)).toEqual(fields);
    expect(answer.text).toContain('value="20 x 30"');
    expect(answer.text).toMatch(/<details class="label-more" open>|id="f-fibres"/);
    expect(await base.db.item.count()).toBe(before);
  });
});

describe("the name on labels", () => {
  const name = (more: Record<string, string>, version: string) =>
    own.submit("/account/labels", {
      businessName: "",
      postalLine: "",
      registeredNumber: "",
      version,
      ...more,
    });
  const version = async () =>
    String((await base.db.member.findUniqueOrThrow({ where: { id: member.id } })).version);

  test("a number alone is no name; a business name is", async () => {
    const refused = await name({ businessName: "Member 142" }, await version());
    expect(refused.status).toBe(400);
    expect(errorLinks(refused.text)).toEqual(["businessName"]);
    expect(refused.text).toContain("16 CFR 303.19");
    expect((await name({ businessName: "Thistle Looms" }, await version())).status).toBe(303);
    const { id } = await enter(base.db, member, sale);
    expect((await own.visit(`/items/${id}`)).text).toContain("Thistle Looms");
    const wrong = await name({ registeredNumber: "RN 1" }, await version());
    expect(errorLinks(wrong.text)).toEqual(["registeredNumber"]);
  });

  test("two windows at once: the second is told", async () => {
    const seen = await version();
    const both = await Promise.all([
      name({ businessName: "One" }, seen),
      name({ businessName: "Two" }, seen),
    ]);
    expect(both.map(({ status }) => status).sort()).toEqual([303, 409]);
  });
});
