import { afterAll, beforeAll, beforeEach, describe, expect, test } from "vitest";
import { emptyDetails } from "../../src/rules/labels/details.ts";
import { type Client, signedIn, startApp, type TestApp } from "../support/app.ts";
import { buildGuild, buildMember, buildSale } from "../support/build.ts";
import { enter, moveTo } from "../support/build-items.ts";

let base: TestApp;
let member: Awaited<ReturnType<typeof buildMember>>;
let own: Client;
let desk: Client;
let sale: { id: string };

beforeAll(async () => {
  base = await startApp();
  await buildGuild(base.db);
  member = await buildMember(base.db);
  own = await signedIn(base, member);
  desk = await signedIn(base, await buildMember(base.db, ["desk"]));
});
afterAll(() => base.close());
beforeEach(async () => {
  sale = await buildSale(base.db);
});

const pin = (answer: string) =>
  enter(base.db, member, sale, {
    kind: "ornament",
    label: {
      ...emptyDetails,
      answers: {
        magnet: answer,
        "child-age": "adult",
        "small-parts": "none",
        feathers: "none",
        fur: "none",
      },
    },
  });
const plain = () =>
  enter(base.db, member, sale, { kind: "towel", fibres: [{ fibre: "cotton", percent: 100 }] });
const scan = (tag: string) => desk.submit("/desk/scan", { sale: sale.id, code: tag });
const onFloor = async (id: string) =>
  (await base.db.itemCount.findUniqueOrThrow({ where: { itemId: id } })).onFloor;

describe("what the desk is told when a piece comes", () => {
  test("nothing for a towel; what to look at for a shown magnet", async () => {
    const towel = await plain();
    const looked = await pin("shown");
    await moveTo(base.db, sale, "entries-closed");
    expect((await scan(towel.tag)).text).not.toContain("desk-notes");
    const page = await scan(looked.tag);
    expect(page.text).toContain("flux index under 50");
    expect(page.text).toContain("Check local rules.");
    expect(await onFloor(looked.id)).toBe(1);
  });

  test("a piece to be held is not scanned in; the helper looks and then takes it", async () => {
    const { id, tag } = await pin("yes");
    await moveTo(base.db, sale, "entries-closed");
    const page = await scan(tag);
    expect(page.status).toBe(409);
    expect(page.text).toContain("Look first");
    expect(page.text).toContain("how strong the magnet is");
    expect(await onFloor(id)).toBe(0);
    const ticked = await desk.submit(`/desk/members/${member.number}/check-ins`, {
      sale: sale.id,
      tags: tag,
    });
    expect(ticked.status).toBe(409);
    const view = await desk.visit(`/desk/items/${tag}`);
    expect(view.text).toContain("Hold it until this is settled");
    expect((await desk.submit(`/desk/items/${tag}`, { deed: "take-in" })).status).toBe(303);
    expect(await onFloor(id)).toBe(1);
  });

  test("a piece that may not be sold does not come in at all", async () => {
    const label = { ...emptyDetails, answers: { feathers: "wild" } };
    const { id, tag } = await enter(base.db, member, sale, { kind: "ornament", label });
    await moveTo(base.db, sale, "entries-closed");
    expect((await desk.visit(`/desk/items/${tag}`)).text).toContain("Do not take it in");
    const taken = await desk.submit(`/desk/items/${tag}`, { deed: "take-in" });
    expect(taken.status).toBe(409);
    expect(taken.text).toContain("wild native birds");
    expect(await onFloor(id)).toBe(0);
    const path = `/api/sales/${sale.id}/check-ins`;
    const api = await desk.post(path, { tag, decision: "accepted", looked: true });
    expect(api.body.code).toBe("look-first");
    expect(
      (await desk.post(path, { tag, decision: "turned-away", reason: "Wild feathers" })).status,
    ).toBe(201);
  });

  test("a tag that is out of date is told, at the scan and on the piece's page", async () => {
    const { id, tag } = await plain();
    await own.submit("/tags/prints", { item: id, stock: "letter-10" });
    await base.db.item.update({ where: { id }, data: { price: 9_900n } });
    await moveTo(base.db, sale, "entries-closed");
    expect((await desk.visit(`/desk/items/${tag}`)).text).toContain("The tag on it is out of date");
    const page = await scan(tag);
    expect(page.text).toContain("The tag on it is out of date");
    expect(await onFloor(id)).toBe(1);
  });
});
