import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { type Client, signedIn, startApp, type TestApp } from "../support/app.ts";
import { buildGuild, buildMember, buildSale } from "../support/build.ts";

let base: TestApp;
let chair: Client;
let member: Client;
let desk: Client;
const unknownId = "01900000-0000-7000-8000-000000000000";

beforeAll(async () => {
  base = await startApp();
  await buildGuild(base.db);
  chair = await signedIn(base, await buildMember(base.db, ["chair"]));
  member = await signedIn(base, await buildMember(base.db, ["member"]));
  desk = await signedIn(base, await buildMember(base.db, ["desk"]));
});
afterAll(() => base.close());

const plan = {
  name: "Harvest sale",
  place: "Grange hall",
  firstDay: "2027-10-08",
  lastDay: "2027-10-09",
  entryDeadline: "2027-10-01T20:00",
  guildRate: "22.5",
  taxRate: "8.875 %",
  taxLabel: "Sales tax",
  priceStep: "0.50",
  priceFloor: "5",
  itemLimit: "",
  receiptFooter: "",
  agreement: "My own work.\r\nMy own prices.",
};

test("an empty list leads on", async () => {
  expect((await chair.visit("/sales")).text).toContain("Plan a sale");
  expect((await desk.visit("/sales")).text).toContain("The chair plans the first one");
});

describe("planning", () => {
  test("typed percentages, amounts and local times become whole numbers and instants", async () => {
    const kind = await base.db.kind.findFirstOrThrow();
    const answer = await chair.submit("/sales", { ...plan, [`kindLimits.${kind.id}`]: "3" });
    expect(answer.status).toBe(303);
    const sale = await base.db.sale.findFirstOrThrow({
      where: { name: "Harvest sale" },
      include: { kindLimits: true, agreements: true, policies: true },
    });
    expect(sale).toMatchObject({
      policies: [{ version: 1, policy: { rates: { ordinary: 22_500 } } }],
      taxRules: {
        ...{ included: false, basis: "receipt", together: true },
        components: [{ code: "tax", name: "Sales tax", rate: 8_875, rules: [] }],
      },
      priceStep: 50n,
      priceFloor: 500n,
      itemLimit: null,
    });
    expect(sale.entryDeadline.toISOString()).toBe("2027-10-02T01:00:00.000Z");
    expect(sale.kindLimits.map(({ kindId, most }) => [kindId, most])).toEqual([[kind.id, 3]]);
    expect(sale.agreements[0]?.text).toBe("My own work.\nMy own prices.");
    const form = await chair.visit(`/sales/${sale.id}/edit`);
    expect(form.text).toContain('value="2027-10-01T20:00"');
    expect(form.text).not.toContain('name="guildRate"');
    expect(form.text).toContain(`href="/sales/${sale.id}/policy"`);
  });

  test.each([
    [{ name: "  " }, "name"],
    [{ guildRate: "101" }, "guildRate"],
    [{ guildRate: "-1" }, "guildRate"],
    [{ guildRate: "a fifth" }, "guildRate"],
    [{ guildRate: "12.3456" }, "guildRate"],
    [{ priceFloor: "0" }, "priceFloor"],
    [{ taxRate: "60" }, "taxRate"],
    [{ taxLabel: "x".repeat(41) }, "taxLabel"],
    [{ priceStep: "0.005" }, "priceStep"],
    [{ priceStep: "-5" }, "priceStep"],
    [{ itemLimit: "0" }, "itemLimit"],
    [{ itemLimit: "many" }, "itemLimit"],
    [{ firstDay: "2027-02-30" }, "firstDay"],
    [{ lastDay: "2027-10-07" }, "lastDay"],
    [{ entryDeadline: "soon" }, "entryDeadline"],
    [{ entryDeadline: "2027-10-10T08:00" }, "entryDeadline"],
    [{ agreement: "" }, "agreement"],
    [{ place: "x".repeat(121) }, "place"],
    [{ [`kindLimits.${unknownId}`]: "-1" }, `kindLimits.${unknownId}`],
    [{ [`kindLimits.${unknownId}`]: "3" }, "kindLimits"],
  ])("%o is refused at its field; what was typed stays", async (wrong, field) => {
    const before = await base.db.sale.count();
    const answer = await chair.submit("/sales", { ...plan, receiptFooter: "Kept words", ...wrong });
    expect(answer.status).toBe(400);
    expect(answer.text).toContain(`href="#f-${field}"`);
    expect(answer.text).toContain("Kept words");
    expect(await base.db.sale.count()).toBe(before);
  });
});

describe("one sale", () => {
  test("the chair sees one next step and takes it; the desk sees the state only", async () => {
    const sale = await buildSale(base.db, { stage: "planning" });
    expect((await desk.visit(`/sales/${sale.id}`)).text).not.toContain("/moves");
    expect((await chair.visit(`/sales/${sale.id}`)).text).toContain("Open entries</button>");
    const step = { to: "entries-open", version: "1" };
    expect((await chair.submit(`/sales/${sale.id}/moves`, step)).status).toBe(303);
    const again = await chair.submit(`/sales/${sale.id}/moves`, step);
    expect(again.status).toBe(409);
    expect(again.text).toContain("Somebody changed this meanwhile");
  });

  test("a step back without a reason comes back with the field", async () => {
    const sale = await buildSale(base.db, { stage: "entries-closed" });
    const back = { to: "entries-open", version: "1", reason: " " };
    const answer = await chair.submit(`/sales/${sale.id}/moves`, back);
    expect(answer.status).toBe(400);
    expect(answer.text).toContain("Say why the sale goes back");
  });

  test.each([{ to: "nowhere" }, { to: "closed" }, { to: "entries-open", version: "0" }, {}])(
    "the step %o is refused",
    async (wrong) => {
      const sale = await buildSale(base.db, { stage: "planning" });
      const answer = await chair.submit(`/sales/${sale.id}/moves`, { version: "1", ...wrong });
      expect(answer.status).toBe(400);
    },
  );

  test("while selling, rates stand still on the form and in the deed", async () => {
    const sale = await buildSale(base.db, { stage: "selling" });
    const form = await chair.visit(`/sales/${sale.id}/edit`);
    expect(form.text).toContain("rates and price rules stay");
    const { agreement: _unused, ...fields } = plan;
    const answer = await chair.submit(`/sales/${sale.id}/edit`, { ...fields, version: "1" });
    expect(answer.status).toBe(409);
    expect(answer.text).toContain('href="#f-priceStep"');
  });

  test("tills are added and renamed", async () => {
    const sale = await buildSale(base.db);
    const path = `/sales/${sale.id}/tills`;
    expect((await chair.submit(path, { name: "Front door" })).status).toBe(303);
    expect((await chair.submit(path, { name: "" })).status).toBe(400);
    const till = await base.db.till.findFirstOrThrow({ where: { saleId: sale.id } });
    expect((await chair.submit(`${path}/${till.id}`, { name: "Side door" })).status).toBe(303);
    expect((await chair.visit(path)).text).toContain('value="Side door"');
    expect((await chair.submit(`${path}/${unknownId}`, { name: "X" })).status).toBe(404);
    expect((await chair.submit(`${path}/1`, { name: "X" })).status).toBe(404);
  });

  test.each([unknownId, "1", "%27"])("sale %j is not there", async (id) => {
    for (const place of ["", "/edit", "/tills", "/agreement", "/agreement/edit"])
      expect((await chair.visit(`/sales/${id}${place}`)).status, place).toBe(404);
  });
});

describe("the agreement", () => {
  test("a member reads and accepts it; a new wording asks again", async () => {
    const sale = await buildSale(base.db);
    const path = `/sales/${sale.id}/agreement`;
    expect((await member.visit(path)).text).toContain("I agree");
    const accepted = await member.submit(`/sales/${sale.id}/acceptances`, { version: "1" });
    expect(accepted.status).toBe(303);
    expect((await member.visit(path)).text).toContain("You accepted this on");
    const reworded = await chair.submit(path, { text: "New words.", replaces: "1" });
    expect(reworded.status).toBe(303);
    expect((await member.visit(path)).text).toContain("I agree");
    const late = await member.submit(`/sales/${sale.id}/acceptances`, { version: "1" });
    expect(late.status).toBe(409);
    expect(late.text).toContain("New words.");
  });

  test("words that look like markup stay words", async () => {
    const sale = await buildSale(base.db);
    const text = "<script>alert(1)</script> {{name}}";
    await chair.submit(`/sales/${sale.id}/agreement`, { text, replaces: "1" });
    const page = await member.visit(`/sales/${sale.id}/agreement`);
    expect(page.text).toContain("&lt;script&gt;alert(1)&lt;/script&gt;");
    expect(page.text).not.toContain("<script>alert");
  });
});
