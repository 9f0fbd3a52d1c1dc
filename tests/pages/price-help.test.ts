import { v7 } from "uuid";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { type Client, signedIn, startApp, type TestApp } from "../support/app.ts";
import { buildGuild, buildMember, buildSale } from "../support/build.ts";
import { early, enter } from "../support/build-items.ts";
import { buildShift, decide } from "../support/build-policy.ts";
import {
  buildRun,
  buildSheet,
  buildWeft,
  buildYarn,
  inches,
  pricedByPound,
  pure,
} from "../support/build-sheet.ts";
import { errorLinks, linksIn } from "../support/html.ts";

let base: TestApp;
let member: Awaited<ReturnType<typeof buildMember>>;
let own: Client;
let other: Client;
let sale: Awaited<ReturnType<typeof buildSale>>;
beforeAll(async () => {
  base = await startApp();
  base.at(early);
  await buildGuild(base.db);
  sale = await buildSale(base.db);
  member = await buildMember(base.db);
  own = await signedIn(base, member);
  other = await signedIn(base, await buildMember(base.db));
  // Printed rules of weavers' guilds: 30 % without work, 20 % with four hours, 10 % for the committee.
  await decide(base.db, sale, {
    rates: {
      ...{ ordinary: 30_000, committee: 10_000 },
      hours: [
        { fromMinutes: 240, rate: 20_000 },
        { fromMinutes: 720, rate: 15_000 },
      ],
      kinds: [{ kind: "yarn", name: "Handspun yarn", rate: 12_500, visitorsToo: true }],
    },
    fees: { entry: 2_000, firstEntry: 1_000 },
    cardFee: { way: "price", rate: 3_000, fixed: 0 },
  });
});
afterAll(() => base.close());

const plain = (html: string): string =>
  html
    .slice(html.indexOf("<main"))
    .replace(/<[^>]*>/g, " ")
    .replace(/&#x27;/g, "'")
    .replace(/\s+/g, " ");
/** A towel of 6.31 and 0.75 with two and a half hours. */
const towel = {
  ...{ materials: "6.31", notions: "0.75", setUp: "1", weaving: "1:00", finishing: "0.5" },
  ...{ wage: "15", kind: "towel", sharedBy: "20" },
};
const ask = (client: Client, more: Record<string, string> = {}, path = "/bench/price") =>
  client.visit(`${path}?${new URLSearchParams({ ...towel, ...more })}`);
const field = (html: string, name: string) =>
  new RegExp(`name="${name}"[^>]* value="([^"]*)"`).exec(html)?.[1];

describe("the answer, without any script", () => {
  test("has a row for every percentage of the policy that may come to hold", async () => {
    const page = await ask(own);
    expect(page.status).toBe(200);
    const words = plain(page.text);
    // (7.06 + 0.50 of the newcomer's entry fee + 37.50) / (1 − 0.30 − 0.03) is 67.25.
    expect(words).toContain(
      "30 %: Under 4 hours of work (as it stands now) $68.00 $20.40 $2.04 $45.56 $15.20",
    );
    expect(words).toMatch(/20 %: 4 to 12 hours of work \(if you work that much\) \$59\.00/);
    expect(words).toMatch(/15 %: 12 hours of work or more \(if you work that much\) \$55\.00/);
    expect(words).toMatch(/10 %: On the committee \(if the guild counts you so\) \$52\.00/);
    expect(words).not.toContain("The rate for Handspun");
    expect(words).toContain("Worked out as if a card paid.");
    expect(words).toContain("Its part of the entry fee $0.50");
  });

  test("knows the kind's own percentage, and the hours that are worked already", async () => {
    const yarn = plain((await ask(own, { kind: "yarn" })).text);
    expect(yarn).toContain("12.5 %: The rate for Handspun yarn");
    expect(yarn).not.toContain("Under 4 hours");
    const busy = await buildMember(base.db);
    await buildShift(base.db, sale, busy, 300);
    const words = plain((await ask(await signedIn(base, busy))).text);
    expect(words).toContain("20 %: 4 to 12 hours of work (as it stands now)");
    expect(words).not.toContain("Under 4 hours");
  });

  test("tells what another price brings, and warns without blocking", async () => {
    const page = await ask(own, { price: "50.50" });
    expect(page.status).toBe(200);
    expect(field(page.text, "price")).toBe("50.50");
    const words = plain(page.text);
    expect(words).toContain("Prices here go in steps of 1.00 USD. Try 50.00 USD or 51.00 USD.");
    // 50.50 less 15.15 and 1.52 (1.515) leaves 33.83; less 7.56 that is 26.28 for 2:30.
    expect(words).toContain("30 %: Under 4 hours of work $33.83 $10.51 Less than you want");
    expect(plain((await ask(own, { price: "4" })).text)).toContain("Less than it costs you");
  });

  test("takes a place that is no sale of the guild, and a shop's percentage beside the sale's", async () => {
    const shop = await ask(own, { sale: "none", rate: "40 %" });
    expect(plain(shop.text)).toMatch(/40 %: The percentage you typed \$75\.00/);
    expect(plain(shop.text)).not.toContain("Under 4 hours");
    const both = plain((await ask(own, { rate: "40" })).text);
    expect(both).toMatch(/Under 4 hours.*40 %: The percentage you typed/);
    const none = await ask(own, { sale: "none" });
    expect([none.status, errorLinks(none.text)]).toEqual([400, ["rate"]]);
  });

  test("tells whether working a shift pays", async () => {
    const words = plain((await ask(own, { sales: "300" })).text);
    expect(words).toContain(
      "4 to 12 hours of work: 4 hours more, and each of them saves you $7.50",
    );
  });

  test("carries the whole question on, so that its address can be kept", async () => {
    const page = await ask(own, { price: "60" });
    for (const [name, value] of Object.entries(towel))
      expect(page.text).toMatch(new RegExp(`type="hidden" name="${name}" value="${value}"`));
    expect(page.text).toContain('id="price-kept" value="60"');
    expect(page.text).toMatch(/<script type="module" src="\/assets\/price-/);
    expect(page.text).toMatch(/id="price-slider" hidden/);
    expect(linksIn(page.text)).toContain("/bench/price");
  });
});

describe("what is typed wrongly", () => {
  test("is named at its field, in the order of the page, and nothing is lost", async () => {
    const wrong = {
      ...{ materials: "six", setUp: "1:75", wage: "", kind: "towel", rate: "130" },
      ...{ sellOfTen: "11", sharedBy: "0", sales: "-5", overheadRate: "a lot", price: "61" },
    };
    const page = await ask(own, wrong);
    expect(page.status).toBe(400);
    expect(errorLinks(page.text)).toEqual([
      ...["materials", "setUp", "wage", "rate", "sharedBy", "overheadRate", "sellOfTen", "sales"],
    ]);
    for (const [name, value] of Object.entries({ ...towel, ...wrong }))
      if (value !== "" && name !== "kind") expect(field(page.text, name)).toBe(value);
    expect(page.text).toMatch(/value="towel" selected/);
    expect(page.text).toContain('id="price-kept" value="61"');
    expect(page.text).not.toContain("Prices that bring the wanted pay");
  });

  test("a price that cannot be read leaves the rest of the page as it is", async () => {
    const page = await ask(own, { price: "sixty" });
    expect([page.status, errorLinks(page.text)]).toEqual([400, ["price"]]);
    expect(page.text).toContain("Prices that bring the wanted pay");
    expect(page.text).toContain('name="price" type="text" value="sixty"');
  });

  test.each([
    [
      "nothing that the piece takes",
      { materials: "", notions: "", setUp: "0", weaving: "0:00", finishing: "" },
      "materials",
    ],
    ["no wage", { wage: "" }, "wage"],
    ["a wage of nothing", { wage: "0" }, "wage"],
    ["a kind of our own", { kind: "spaceship" }, "kind"],
    ["a sale of our own", { sale: "autumn" }, "sale"],
    ["a sale that is not there", { sale: v7() }, "sale"],
    ["a sign that no line has", { kind: "tow\u0000el" }, "kind"],
  ])("%s", async (_what, more, name) => {
    const page = await ask(own, more);
    expect([page.status, errorLinks(page.text)]).toEqual([400, [name]]);
  });

  test("figures at their limits break nothing", async () => {
    const most = { materials: "9999999", overheadRate: "100", weaving: "999", wage: "9999999" };
    const page = await ask(own, { ...most, sellOfTen: "1", price: "9999999" });
    expect(page.status).toBe(200);
    expect(plain(page.text)).toContain("More than the highest price that can be entered");
    expect((await ask(own, { rate: "100" })).text).toContain("Nothing would be left for you");
  });
});

describe("opened without a question", () => {
  test("the page asks for what it needs and finds no fault yet", async () => {
    const page = await other.visit("/bench/price");
    expect(page.status).toBe(200);
    expect(errorLinks(page.text)).toEqual([]);
    expect(page.text).not.toContain("Prices that bring the wanted pay");
    expect(plain(page.text)).toContain("Choose the kind of the piece above to see it.");
  });

  test("an own item brings along what is noted of it; another's is not there", async () => {
    const item = await enter(base.db, member, sale, { price: 6_300, size: "20 x 180 cm" });
    await base.db.itemMaking.create({ data: { itemId: item.id, minutes: 585, materials: 2_323n } });
    const shown = await own.visit(`/items/${item.id}`);
    expect(linksIn(shown.text)).toContain(`/bench/price?item=${item.id}`);
    const page = await own.visit(`/bench/price?item=${item.id}`);
    expect(field(page.text, "materials")).toBe("23.23");
    expect(field(page.text, "weaving")).toBe("9:45");
    expect(field(page.text, "sharedBy")).toBe("1");
    expect(field(page.text, "size")).toBe("20 x 180 cm");
    expect(page.text).toMatch(/value="scarf" selected/);
    expect(page.text).toMatch(/value="wool" selected/);
    expect(page.text).toContain('id="price-kept" value="63.00"');
    for (const id of [item.id, v7(), "nonsense"]) {
      expect((await other.visit(`/bench/price?item=${id}`)).status).toBe(404);
      expect((await other.visit(`/bench/price?sheet=${id}`)).status).toBe(404);
    }
  });
});

describe("from an own warp sheet", () => {
  // Six towels from one warp at 22.00 for a pound: 37.8365 of yarn, 6.3061 for each.
  const sheet = (price: number | null) =>
    buildSheet({
      yarns: [buildYarn(3_360, pure("cotton"), price ? pricedByPound(price) : {})],
      runs: [
        buildRun(6, { loom: 34 }, [buildWeft(0, 20, 5)], {
          ...{ name: "towel", weaving: 60, finishing: 30, kind: "towel" },
        }),
      ],
      ...{ sampling: inches(12), loomWaste: inches(30), setUp: 360, setUpBy: "count" },
    });
  const keep = (price: number | null) =>
    base.db.warpSheet.create({
      data: { memberId: member.id, name: "Blue towels", sheet: sheet(price) as object },
    });

  test("materials, hours with their share of the set-up, and kind are filled in", async () => {
    const { id } = await keep(2_200);
    const page = await own.visit(`/bench/price?sheet=${id}&run=0`);
    expect(
      ["materials", "setUp", "weaving", "finishing"].map((name) => field(page.text, name)),
    ).toEqual([...["6.31", "1", "1", "0:30"]]);
    expect(page.text).toMatch(/value="towel" selected/);
    expect(plain(page.text)).toContain("For Blue towels: towel");
    expect((await own.visit(`/bench/price?sheet=${id}&run=1`)).status).toBe(404);
    expect((await other.visit(`/bench/price?sheet=${id}&run=0`)).status).toBe(404);
  });

  test("a yarn without a price is told", async () => {
    const { id } = await keep(null);
    const page = await own.visit(`/bench/price?sheet=${id}&run=0`);
    expect(plain(page.text)).toContain("A yarn of the sheet has no price");
  });
});

describe("the wanted pay", () => {
  const keep = (client: Client, wage: string) =>
    client.submit("/bench/price/wage", { wage, back: String(new URLSearchParams(towel)) });

  test("is kept, filled in next time, and forgotten; nobody else sees it", async () => {
    const kept = await keep(own, "15");
    expect(kept.status).toBe(303);
    expect(kept.headers.location).toMatch(/^\/bench\/price\?materials=6\.31&.*wage=15&kind=towel/);
    const next = await own.visit("/bench/price");
    expect(field(next.text, "wage")).toBe("15.00");
    expect(next.text).toContain("Forget the pay that is kept");
    expect(field((await other.visit("/bench/price")).text, "wage")).toBe("");
    const audits = await base.db.audit.findMany({ where: { deed: "keep-wage" } });
    expect(audits).toMatchObject([{ byId: member.id, detail: {} }]);
    expect((await keep(own, "")).status).toBe(303);
    expect(await base.db.memberWage.count()).toBe(0);
  });

  test("that cannot be read is named, and the question stays", async () => {
    const answer = await keep(own, "fifteen");
    expect([answer.status, errorLinks(answer.text)]).toEqual([400, ["wage"]]);
    expect(field(answer.text, "materials")).toBe("6.31");
    expect(await base.db.memberWage.count()).toBe(0);
  });

  test("leads back to price help and nowhere else", async () => {
    const back = "https://evil.example/?x=1&materials=1";
    const answer = await own.submit("/bench/price/wage", { wage: "15", back });
    expect(answer.headers.location).toBe("/bench/price?materials=1");
    await keep(own, "");
  });
});
