import type { Browser, Page } from "playwright-core";
import { afterAll, beforeAll, expect, test } from "vitest";
import { hashPassphrase } from "../../src/actions/passphrase.ts";
import { startApp, type TestApp } from "../support/app.ts";
import { expectGoodPage, phone, signInAs, startBrowser } from "../support/browser.ts";
import { buildGuild, buildMember, buildSale } from "../support/build.ts";
import { expectTargets } from "../support/crawl.ts";

const passphrase = "seven towels on one warp";

/** On a phone: a warp is planned, four towels are entered from it, and their tags are made. */
let base: TestApp;
let browser: Browser;
let page: Page;
let member: Awaited<ReturnType<typeof buildMember>>;

beforeAll(async () => {
  base = await startApp();
  browser = await startBrowser();
  await buildGuild(base.db);
  const passphraseHash = await hashPassphrase(passphrase);
  member = await buildMember(base.db, ["member"], { passphraseHash });
  await buildSale(base.db, { entryDeadline: new Date(Date.now() + 86_400_000) });
  page = await signInAs(browser, base, member, passphrase, phone);
});
afterAll(async () => {
  await browser?.close();
  await base?.close();
});

let taps = 0;
const tap = async (role: "link" | "button" | "checkbox", name: string) => {
  taps += 1;
  await page.getByRole(role, { name, exact: true }).first().click();
};
const type = async (label: string, text: string) => {
  taps += 1;
  await page.getByLabel(label, { exact: true }).first().fill(text);
};

test("from a warp sheet to four tags in nine taps", async () => {
  await page.goto("/bench");
  const start = Date.now();
  await tap("link", "Plan a warp");
  taps += 1;
  await page.getByRole("link", { name: /^Towels/ }).click();
  await type("How many", "4");
  await tap("button", "Work out");
  await page.getByText("100% Cotton").waitFor();
  await tap("link", "Enter these for the sale");
  await type("Price", "28");
  taps += 1;
  await page.getByLabel("I have read this and agree").check();
  await tap("button", "Enter and get the tag numbers");
  await page.getByText("4 tag numbers given").waitFor();
  await tap("button", "Print the new tags");
  await page.waitForURL(/\/tags\/prints\//);
  await page
    .getByRole("link", { name: /Open|Download|file/i })
    .first()
    .waitFor();
  // Typing counts as one tap for its field; the digits come on top. Seconds are the machine's own.
  console.info(`From a warp sheet to four tags: ${taps} taps, ${(Date.now() - start) / 1_000} s`);
  expect(taps).toBe(9);
  const items = await base.db.item.findMany({ where: { memberId: member.id } });
  expect(items.map(({ size, price }) => [size, price])).toEqual(
    Array.from({ length: 4 }, () => ["19 × 26 in", 2_800n]),
  );
  expect(await base.db.tagPrint.count()).toBe(4);
});

test.each(["/bench", "/bench/sheets/new", "/bench/sheets/new?preset=rug&units=metric"])(
  "%s is good to read and to touch",
  async (path) => {
    await page.goto(path);
    for (const summary of await page.locator("main summary:visible").all()) await summary.click();
    await expectGoodPage(page);
    await expectTargets(page);
  },
);

test("the sheet, its form, its entry and its tags too", async () => {
  const { id } = await base.db.warpSheet.findFirstOrThrow();
  for (const part of ["", "?units=metric", "/change", "/enter", "/entered"]) {
    await page.goto(`/bench/sheets/${id}${part}`);
    await expectGoodPage(page);
    await expectTargets(page);
  }
});

test("one more yarn needs no script and brings one to its name", async () => {
  await page.goto("/bench/sheets/new?preset=towels");
  await page.getByLabel("Name of this warp").fill("Striped");
  await page.getByRole("button", { name: "Add another yarn" }).click();
  await page.locator("[id='f-yarns.1.name']:focus").waitFor();
  expect(await page.getByLabel("Name of this warp").inputValue()).toBe("Striped");
});
