import { afterAll, beforeAll, describe, expect, test } from "vitest";
import type { TaxRules } from "../../src/rules/tax/tax-rules.ts";
import { type Client, signedIn, startApp, type TestApp } from "../support/app.ts";
import { buildGuild, buildMember, buildSale } from "../support/build.ts";

let base: TestApp;
let chair: Client;
let saleId: string;
beforeAll(async () => {
  base = await startApp();
  await buildGuild(base.db);
  chair = await signedIn(base, await buildMember(base.db, ["chair"]));
  saleId = (await buildSale(base.db, { stage: "planning" })).id;
});
afterAll(() => base.close());

const versionNow = async () =>
  String((await base.db.sale.findUniqueOrThrow({ where: { id: saleId } })).version);
const stored = async () => base.db.sale.findUniqueOrThrow({ where: { id: saleId } });
const form = async (more: Record<string, string> = {}) => ({
  version: await versionNow(),
  included: "no",
  basis: "receipt",
  together: "yes",
  ...{ cashStep: "1", cashFives: "up", markdownRate: "", markdownFrom: "" },
  ...more,
});
const one = "tax.components.0";
const two = "tax.components.1";

describe("the terms of a sale", () => {
  test("two taxes, a threshold for a kind, cash to five and a last day are kept as rules", async () => {
    const answer = await chair.submit(
      `/sales/${saleId}/terms`,
      await form({
        [`${one}.name`]: "State tax",
        [`${one}.rate`]: "4 %",
        [`${one}.rules.0.kind`]: "*",
        [`${one}.rules.0.mode`]: "exempt-under",
        [`${one}.rules.0.threshold`]: "110",
        [`${two}.name`]: "City tax",
        [`${two}.rate`]: "4.875",
        ...{ cashStep: "5", cashFives: "down", markdownRate: "20" },
        markdownFrom: "2027-05-16T12:00",
      }),
    );
    expect(answer.status).toBe(303);
    const sale = await stored();
    expect(sale.taxRules).toEqual({
      ...{ included: false, basis: "receipt", together: true },
      components: [
        {
          ...{ code: "state-tax", name: "State tax", rate: 4_000 },
          rules: [{ kind: "*", mode: "exempt-under", threshold: 11_000 }],
        },
        { code: "city-tax", name: "City tax", rate: 4_875, rules: [] },
      ],
    });
    expect([sale.cashStep, sale.cashFives, sale.markdownRate]).toEqual([5, "down", 20_000]);
    const page = await chair.visit(`/sales/${saleId}/terms`);
    for (const shown of ["State tax", "4.875", "110", "2027-05-16T12:00"])
      expect(page.text).toContain(`value="${shown}`);
    const accounts = await base.db.account.findMany({ where: { key: { startsWith: "tax/" } } });
    expect(accounts.map(({ key }) => key)).toEqual(
      expect.arrayContaining(["tax/state-tax", "tax/city-tax"]),
    );
  });

  test("a tax that is renamed keeps its code, so the books go on", async () => {
    const sale = await stored();
    const [first] = (sale.taxRules as unknown as TaxRules).components;
    await chair.submit(
      `/sales/${saleId}/terms`,
      await form({
        [`${one}.code`]: first!.code,
        [`${one}.name`]: "New state tax",
        [`${one}.rate`]: "4",
      }),
    );
    expect((await stored()).taxRules).toMatchObject({
      components: [{ code: "state-tax", name: "New state tax" }],
    });
  });

  test.each([
    [{ [`${one}.name`]: "Tax", [`${one}.rate`]: "ninety" }, `${one}.rate`],
    [{ [`${one}.name`]: "Tax", [`${one}.rate`]: "60" }, "tax.components"],
    [
      {
        ...{ [`${one}.name`]: "Tax", [`${one}.rate`]: "6", [`${one}.rules.0.kind`]: "*" },
        [`${one}.rules.0.mode`]: "exempt-under",
      },
      `${one}.rules.0.threshold`,
    ],
    [{ cashStep: "3" }, "cashStep"],
    [{ markdownRate: "95" }, "markdownRate"],
    [{ markdownFrom: "soon" }, "markdownFrom"],
  ])("%j is refused at %s and everything typed stays", async (wrong, field) => {
    const before = await stored();
    const answer = await chair.submit(
      `/sales/${saleId}/terms`,
      await form({ ...wrong, [`${two}.name`]: "Kept tax", [`${two}.rate`]: "1" }),
    );
    expect(answer.status).toBe(400);
    expect(answer.text).toContain("Kept tax");
    expect(answer.text).toContain(`#f-${field}`);
    expect(await stored()).toEqual(before);
  });

  test("once selling has begun tax and cash stay, the markdown may still be set", async () => {
    await base.db.sale.update({ where: { id: saleId }, data: { stage: "selling" } });
    const change = { [`${one}.code`]: "state-tax", [`${one}.name`]: "New state tax" };
    const refused = await chair.submit(
      `/sales/${saleId}/terms`,
      await form({ ...change, [`${one}.rate`]: "5" }),
    );
    expect(refused.status).toBe(409);
    const sale = await stored();
    const kept = await chair.submit(
      `/sales/${saleId}/terms`,
      await form({
        ...{ ...change, [`${one}.rate`]: "4", together: "yes" },
        ...{ cashStep: String(sale.cashStep), cashFives: sale.cashFives, markdownRate: "10" },
        markdownFrom: "2027-05-16T12:00",
      }),
    );
    expect(kept.status).toBe(303);
    expect((await stored()).markdownRate).toBe(10_000);
  });
});

describe("the guild's own goods", () => {
  const path = () => `/sales/${saleId}/goods`;

  test("an empty list says what to do; a button is added, changed and taken off", async () => {
    expect((await chair.visit(path())).text).toContain("No button yet");
    const bag = { name: "Cloth bag", kind: "goods", price: "3", taxKind: "" };
    expect((await chair.submit(path(), bag)).status).toBe(303);
    const [good] = await base.db.guildGood.findMany({ where: { saleId } });
    expect(good).toMatchObject({ name: "Cloth bag", price: 300n, position: 1 });
    const change = { ...bag, price: "", position: "2", version: "1", retired: "yes" };
    expect((await chair.submit(`${path()}/${good!.id}`, change)).status).toBe(303);
    const after = await base.db.guildGood.findUniqueOrThrow({ where: { id: good!.id } });
    expect([after.price, after.position, after.retiredAt !== null]).toEqual([null, 2, true]);
    expect((await chair.submit(`${path()}/${good!.id}`, change)).status).toBe(409);
  });

  test("the same name twice is one button, also when two chairs press at once", async () => {
    const raffle = { name: "Raffle ticket", kind: "goods", price: "2", taxKind: "" };
    const answers = await Promise.all([1, 2, 3].map(() => chair.submit(path(), raffle)));
    expect(answers.map(({ status }) => status).sort()).toEqual([303, 400, 400]);
  });

  test.each([
    [{ name: "" }, "name"],
    [{ price: "-1" }, "price"],
    [{ price: "a lot" }, "price"],
    [{ kind: "loan" }, "kind"],
  ])("%j is refused at its field", async (wrong, field) => {
    const answer = await chair.submit(path(), { name: "Mug", kind: "goods", price: "4", ...wrong });
    expect(answer.status).toBe(400);
    expect(answer.text).toContain(`#f-${field}`);
  });
});
