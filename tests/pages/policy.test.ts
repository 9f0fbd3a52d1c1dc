import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { type Client, signedIn, startApp, type TestApp } from "../support/app.ts";
import { buildMember, buildSale } from "../support/build.ts";
import { buildSettling } from "../support/build-settlement.ts";
import { errorLinks, linksIn } from "../support/html.ts";
import { hiddenFields, policyForm } from "../support/policy-form.ts";

let base: TestApp;
let hall: Awaited<ReturnType<typeof buildSettling>>;
let treasurer: Client;
let weaver: Client;
let spring: { id: string };
beforeAll(async () => {
  base = await startApp();
  hall = await buildSettling(base.db);
  treasurer = await signedIn(base, hall.treasurer);
  weaver = await signedIn(base, hall.weaver);
  const days = { firstDay: new Date("2027-04-20"), lastDay: new Date("2027-04-22") };
  spring = await buildSale(base.db, { name: "Spring sale", ...days });
  base.at(new Date("2026-11-15T12:00:00Z"));
});
afterAll(() => base.close());

const plain = (html: string): string =>
  html
    .slice(html.indexOf("<main"))
    .replace(/<[^>]*>/g, " ")
    .replace(/&#x27;/g, "'")
    .replace(/\s+/g, " ");
const versionsOf = (saleId: string) => base.db.salePolicy.count({ where: { saleId } });
/** Rates that stand in weavers' guilds' printed rules: 30 % without a shift, 20 % with one. */
const byShifts = {
  "rates.ordinary": "30",
  ...{ "rates.hours.0.fromMinutes": "2", "rates.hours.0.rate": "20" },
  ...{ "fees.entry": "20", "fees.firstEntry": "10" },
  reason: "The hall costs more.",
};

describe("deciding what the guild keeps", () => {
  test("the page tells what holds; a link of the sale leads there", async () => {
    const sale = await treasurer.visit(`/sales/${spring.id}`);
    expect(linksIn(sale.text)).toContain(`/sales/${spring.id}/policy`);
    const page = await treasurer.visit(`/sales/${spring.id}/policy`);
    expect(plain(page.text)).toContain("The guild keeps 20 % of the price of each piece.");
    expect(plain(page.text)).toContain("Version 1");
    const form = await treasurer.visit(`/sales/${spring.id}/policy/change`);
    expect(form.text).toContain('name="rates.ordinary" type="text" value="20"');
    expect(plain(form.text)).toContain("5 pieces at $4.50 and 15 %: $3.40 for the guild.");
    expect(plain(form.text)).toContain("5 pieces at $4.50 and 15 %: $3.38 for the guild.");
  });

  test("first everybody's figures are shown and nothing is kept; then it is decided", async () => {
    // By hand, under 20 %: 45.00 + 2 × 19.99 = 84.98 gives 9.00 + 8.00, and 33.33 gives 6.67.
    // Under 30 % 13.50 + 11.99 and 10.00; everybody sells for the first time, so 10.00 each.
    const form = policyForm(byShifts);
    const seen = await treasurer.submit(`/sales/${spring.id}/policy/effect`, form);
    expect(seen.status).toBe(200);
    const words = plain(seen.text);
    expect(words).toContain("Nothing is sold here yet, so these are the figures of Autumn sale");
    expect(words).toContain(`${hall.weaver.number} ${hall.weaver.name}`);
    expect(words).toMatch(/before \$17\.00 → now \$25\.49 .*before \$67\.98 → now \$49\.49/);
    expect(words).toMatch(/−\$18\.49/);
    expect(words).toMatch(/before \$6\.67 → now \$10\.00/);
    expect(words).toContain("New: Entry fee: $20.00 for each member who enters anything.");
    expect(await versionsOf(spring.id)).toBe(1);
    const carried = hiddenFields(seen.text);
    expect(carried).toMatchObject(byShifts);
    const decided = await treasurer.submit(`/sales/${spring.id}/policies`, carried);
    expect(decided.headers.location).toBe(`/sales/${spring.id}/policy`);
    const page = plain((await treasurer.visit(`/sales/${spring.id}/policy`)).text);
    expect(page).toContain(`Version 2`);
    expect(page).toContain("Why: The hall costs more.");
    expect(page).toContain("Before: The guild keeps 20 % of the price of each piece.");
    const again = await treasurer.submit(`/sales/${spring.id}/policies`, carried);
    expect(again.status).toBe(409);
    expect(await versionsOf(spring.id)).toBe(2);
  });

  test("the sale's own books are taken as soon as something is sold, and a search finds a member", async () => {
    const path = `/sales/${hall.sale.id}/policy/effect`;
    const form = policyForm({ "rates.ordinary": "25", reason: "Why not" });
    const seen = await treasurer.submit(path, { ...form, q: hall.other.name });
    expect(plain(seen.text)).not.toContain("Nothing is sold here yet");
    expect(plain(seen.text)).toContain("1 of 1 members");
    expect(plain(seen.text)).toContain(hall.other.name);
    const nobody = await treasurer.submit(path, { ...form, q: "Nobody" });
    expect(plain(nobody.text)).toContain("No member fits");
    const far = await treasurer.submit(path, { ...form, page: "9" });
    expect(far.status).toBe(200);
  });

  test("where nothing was ever sold the page says so", async () => {
    const firstDay = new Date("2020-01-01");
    const { id } = await buildSale(base.db, { name: "The very first", firstDay });
    const form = policyForm({ "rates.ordinary": "25", reason: "Why not" });
    const seen = await treasurer.submit(`/sales/${id}/policy/effect`, form);
    expect(plain(seen.text)).toContain("There is nothing to show it on yet");
  });

  test("faults stand at their fields, and nothing that was typed is lost", async () => {
    const path = `/sales/${hall.sale.id}/policy/effect`;
    const wrong = policyForm({
      "rates.ordinary": "ninety",
      ...{ "rates.kinds.3.rate": "8", "fees.late": "<b>", "payout.tenders.0.method": "" },
    });
    const refused = await treasurer.submit(path, wrong);
    expect(refused.status).toBe(400);
    expect(errorLinks(refused.text)).toEqual(["rates.ordinary", "fees.late", "rates.kinds.0.kind"]);
    expect(refused.text).toContain('name="rates.ordinary" type="text" value="ninety"');
    expect(refused.text).toContain('value="&lt;b&gt;"');
    expect(refused.text).toContain('name="rates.kinds.0.rate" type="text" value="8"');
    const limit = { "payout.tenders.0.upTo": "50", reason: "Why not" };
    const capped = await treasurer.submit(path, policyForm(limit));
    expect([capped.status, errorLinks(capped.text)]).toEqual([400, ["payout.tenders"]]);
    const silent = await treasurer.submit(path, policyForm({ "rates.ordinary": "25" }));
    expect(errorLinks(silent.text)).toEqual(["reason"]);
  });

  test("more empty rows come without deciding anything, and the way back keeps what was typed", async () => {
    const path = `/sales/${hall.sale.id}/policy`;
    const rows = { "rates.classes.1.name": "Elders", "rates.classes.1.rate": "5" };
    const more = await treasurer.submit(`${path}/effect`, policyForm({ ...rows, go: "rows" }));
    expect(more.text).toContain('name="rates.classes.0.name" type="text" value="Elders"');
    expect(more.text).toContain('name="rates.classes.2.name"');
    const back = await treasurer.submit(`${path}/change`, policyForm(rows));
    expect(back.text).toContain('name="rates.classes.0.name" type="text" value="Elders"');
    expect(await versionsOf(hall.sale.id)).toBe(1);
  });

  test("members neither see nor change these pages, and a sale that is not there is not found", async () => {
    const pages = await Promise.all(
      ["policy", "policy/change"].map((page) => weaver.visit(`/sales/${spring.id}/${page}`)),
    );
    expect(pages.map(({ status }) => status)).toEqual([403, 403]);
    const form = policyForm(byShifts);
    for (const page of ["policies", "policy/effect", "policy/change"])
      expect((await weaver.submit(`/sales/${spring.id}/${page}`, form)).status).toBe(403);
    const unknown = "01900000-0000-7000-8000-000000000000";
    expect((await treasurer.visit(`/sales/${unknown}/policy`)).status).toBe(404);
    expect((await treasurer.submit(`/sales/${unknown}/policies`, form)).status).toBe(404);
  });
});

describe("what members see", () => {
  test("the whole policy and their own percentage stand where they agree and where they enter", async () => {
    const page = plain((await weaver.visit(`/sales/${spring.id}/agreement`)).text);
    expect(page).toContain("For you, as it stands: 30 %: under 2 hours of work.");
    expect(page).toContain("2 hours of work or more: 20 %.");
    expect(page).toContain("Entry fee of those who sell for the first time: $10.00.");
    const terms = { saleId: spring.id, memberId: hall.weaver.id, committee: true };
    await base.db.saleSeller.create({ data: terms });
    const committee = policyForm({ ...byShifts, replaces: "2", "rates.committee": "10" });
    await treasurer.submit(`/sales/${spring.id}/policies`, committee);
    for (const path of ["new", "many"]) {
      const entry = plain((await weaver.visit(`/items/${path}?sale=${spring.id}`)).text);
      expect(entry).toContain("For you, as it stands: 10 %: on the committee.");
    }
  });

  test("who had agreed reads at the start what changed, when, by whom and why; others do not", async () => {
    const home = async () => plain((await weaver.visit("/")).text);
    expect(await home()).not.toContain("has changed since you agreed");
    await weaver.submit(`/sales/${spring.id}/acceptances`, { version: "1" });
    expect(await home()).not.toContain("has changed since you agreed");
    const dearer = { ...byShifts, "rates.ordinary": "35", "rates.committee": "10" };
    const form = policyForm({ ...dearer, replaces: "3", reason: "Heating" });
    await treasurer.submit(`/sales/${spring.id}/policies`, form);
    const told = await home();
    expect(told).toContain("What the guild keeps at Spring sale has changed since you agreed");
    expect(told).toContain(`${hall.treasurer.name}. Why: Heating`);
    expect(told).toContain("Now: Under 2 hours of work: 35 %.");
    expect(told).toContain("Before: Under 2 hours of work: 30 %.");
    const other = await signedIn(base, await buildMember(base.db));
    expect(plain((await other.visit("/")).text)).not.toContain("has changed since you agreed");
  });
});
