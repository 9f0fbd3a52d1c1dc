import { v7 } from "uuid";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { type Client, signedIn, type TestApp } from "../support/app.ts";
import { type Member, startAtEntry } from "../support/at-entry.ts";
import { buildMember } from "../support/build.ts";
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

describe("questions", () => {
  test("follow an entry whose kind calls for them, and only there", async () => {
    const towel = await own.submit("/items", filled());
    expect(towel.headers.location).toBe(`/items?sale=${sale.id}`);
    const scarf = await own.submit("/items", filled({ kind: "scarf", go: "another" }));
    const path = String(scarf.headers.location).split("?")[0] as string;
    const page = await own.visit(String(scarf.headers.location));
    expect(page.text).toContain("What is the surface of the cloth like?");
    expect(page.text).toContain("16 CFR 1610.1");
    const answers = {
      ...{ version: "1", next: "another", "answers.surface": "open" },
      ...{
        "cloth.weight": "2",
        "cloth.weightUnit": "oz",
        "cloth.length": "70",
        "cloth.width": "12",
        "cloth.unit": "in",
      },
    };
    const kept = await own.submit(path, answers);
    expect(kept.headers.location).toBe(`/items/new?sale=${sale.id}`);
    const { id, labelDetails } = await lastItem();
    // 2 oz are 56.69904625 g; 70 in are 1778 mm and 12 in 304.8 mm, rounded down.
    expect(labelDetails).toMatchObject({
      answers: { surface: "open" },
      cloth: { milligrams: 56_699, length: 1_778, width: 304 },
    });
    const item = await own.visit(`/items/${id}`);
    expect(item.text).toContain("Raised or open cloth");
    expect((await own.submit(path, answers)).status).toBe(409);
  });

  test.each<[string, Record<string, string>, string]>([
    ["an answer no list offers", { "answers.surface": "fluffy" }, "answers.surface"],
    [
      "a weight of nothing",
      { "cloth.weight": "0", "cloth.length": "9", "cloth.width": "9" },
      "cloth.weight",
    ],
    [
      "a size below zero",
      { "cloth.weight": "9", "cloth.length": "-9", "cloth.width": "9" },
      "cloth.length",
    ],
    ["a size left out", { "cloth.weight": "9", "cloth.length": "9" }, "cloth.width"],
  ])("%s is refused at its field", async (_words, more, field) => {
    const { id, version } = await base.db.item.findUniqueOrThrow({
      where: { id: (await enter(base.db, member, sale)).id },
    });
    const page = await own.submit(`/items/${id}/questions`, { version: String(version), ...more });
    expect(page.status).toBe(400);
    expect(errorLinks(page.text)).toEqual([field]);
  });

  test("are not there for another kind, another member or an unknown piece", async () => {
    const { id } = await enter(base.db, member, sale, { kind: "towel" });
    expect((await own.visit(`/items/${id}/questions`)).status).toBe(404);
    const scarf = await enter(base.db, member, sale);
    const other = await signedIn(base, await buildMember(base.db));
    expect((await other.visit(`/items/${scarf.id}/questions`)).status).toBe(404);
    expect((await own.visit(`/items/${v7()}/questions`)).status).toBe(404);
  });
});
