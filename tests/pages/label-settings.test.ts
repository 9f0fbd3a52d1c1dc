import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { type Client, signedIn, type TestApp } from "../support/app.ts";
import { type Member, startAtEntry } from "../support/at-entry.ts";
import { buildMember } from "../support/build.ts";
import { enter } from "../support/build-items.ts";
import { errorLinks } from "../support/html.ts";

let base: TestApp;
let member: Member;
let own: Client;
let chair: Client;
let sale: { id: string };

beforeAll(async () => {
  ({ base, member, own, sale } = await startAtEntry());
  chair = await signedIn(base, await buildMember(base.db, ["chair"]));
});
afterAll(() => base.close());

describe("the guild's label settings", () => {
  const settings = async (more: object = {}) =>
    chair.submit("/guild/labels", {
      jurisdiction: "us",
      labelIdentity: "member",
      registeredNumber: "",
      version: String((await base.db.guild.findFirstOrThrow()).version),
      ...more,
    });

  test("carry the licence note beside the switch for symbols, off at first", async () => {
    const page = await chair.visit("/guild/labels");
    expect(page.text).toContain("registered trade marks");
    expect(page.text).toMatch(
      /name="careSymbols" type="checkbox" value="yes" aria|name="careSymbols" type="checkbox" value="yes">/,
    );
    expect((await own.visit("/guild/labels")).status).toBe(403);
  });

  test("change every label at once", async () => {
    const { id } = await enter(base.db, member, sale);
    expect((await settings({ jurisdiction: "canada" })).status).toBe(303);
    expect((await own.visit(`/items/${id}`)).text).toContain("80% Wool / Laine, 20% Silk / Soie");
    expect((await settings()).status).toBe(303);
  });

  test.each<[string, object, string]>([
    ["a made-up country", { jurisdiction: "atlantis" }, "jurisdiction"],
    ["a language that law lacks", { labelLanguages: "fr" }, "labelLanguages"],
    ["a number that is none", { registeredNumber: "12" }, "registeredNumber"],
    ["a number that is to be printed and missing", { labelIdentity: "number" }, "registeredNumber"],
  ])("%s is refused at its field", async (_words, more, field) => {
    const page = await settings(more);
    expect(page.status).toBe(400);
    expect(errorLinks(page.text)).toEqual([field]);
  });
});

test("a kind of the guild's own counts as what the chair says", async () => {
  const added = await chair.submit("/kinds", { name: "Magnetic pin", labelGroup: "jewellery" });
  expect(added.status).toBe(303);
  const kind = await base.db.kind.findFirstOrThrow({ where: { name: "Magnetic pin" } });
  const pin = await own.submit("/items", {
    ...{ sale: sale.id, kind: kind.code, description: "Pin", price: "45.00" },
    ...{ "fibres.0.fibre": "wool", agreementVersion: "1" },
  });
  const page = await own.visit(String(pin.headers.location));
  expect(page.text).toContain("Does it hold a magnet?");
  expect((await chair.submit("/kinds", { name: "Charm", labelGroup: "magic" })).status).toBe(400);
});
