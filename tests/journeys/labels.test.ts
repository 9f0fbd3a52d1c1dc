import { readFile } from "node:fs/promises";
import type { Browser, Page } from "playwright-core";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { hashPassphrase } from "../../src/actions/passphrase.ts";
import { startApp, type TestApp } from "../support/app.ts";
import {
  expectGoodPage,
  laptop,
  phone,
  scanAtDesk,
  signInAs,
  startBrowser,
} from "../support/browser.ts";
import { buildGuild, buildMember, buildSale } from "../support/build.ts";
import { moveTo } from "../support/build-items.ts";
import { pagesOf, readBars, wordsOf } from "../support/pdf.ts";

const passphrase = "four warm woolly winters";

/** A blend with a caution, from the entry on a phone to its tag and the desk. */
let base: TestApp;
let browser: Browser;
let page: Page;
let desk: Page;
let sale: { id: string };

beforeAll(async () => {
  base = await startApp();
  browser = await startBrowser();
  await buildGuild(base.db);
  const passphraseHash = await hashPassphrase(passphrase);
  const member = await buildMember(base.db, ["member"], { passphraseHash });
  const helper = await buildMember(base.db, ["desk"], { passphraseHash });
  sale = await buildSale(base.db, { entryDeadline: new Date(Date.now() + 86_400_000) });
  page = await signInAs(browser, base, member, passphrase, phone);
  desk = await signInAs(browser, base, helper, passphrase, laptop);
});
afterAll(async () => {
  await browser?.close();
  await base?.close();
});

const press = (on: Page, name: string | RegExp) => on.getByRole("button", { name }).click();

describe("a label in the browser", () => {
  test("a member enters a raised cotton and silk scarf on the phone", async () => {
    await page.goto("/items/new");
    await page.getByLabel("What is it?").selectOption("scarf");
    await page.getByLabel("Short description").fill("Brushed scarf, moss");
    await page.getByLabel("Price", { exact: true }).fill("120");
    await page.getByLabel("Fibre 1").first().selectOption("cotton");
    await page.getByLabel("Percent 1").first().fill("70");
    await page.getByLabel("Fibre 2").first().selectOption("silk");
    await page.getByLabel("Percent 2").first().fill("30");
    await page.getByText("More about the label").click();
    await page.getByLabel("Where did the yarn come from?").selectOption("imported");
    await page.getByLabel("Strong hand-dyed colour").check();
    await page.getByText("Choose other care").click();
    await page.getByLabel("Washing").selectOption("machine-60");
    await page.getByLabel("I have read this and agree").check();
    await expectGoodPage(page);
    await press(page, "Save and get its number");
    // Harder care than worked out is refused with the rule, and the choice still stands there.
    await expectGoodPage(page);
    expect(await page.title()).toMatch(/^Error: /);
    expect(await page.getByText("16 CFR 423.6(c)").count()).toBeGreaterThan(0);
    expect(await page.getByLabel("Washing").inputValue()).toBe("machine-60");
    await page.getByLabel("Washing").selectOption("");
    await page.getByLabel("I have read this and agree").check();
    await press(page, "Save and get its number");
    await page.waitForURL("**/questions");
  });

  test("is asked what its kind calls for, and sees the label with its reasons", async () => {
    await expectGoodPage(page);
    await page.getByLabel("Raised: brushed, napped, chenille or pile").check();
    await press(page, "Keep the answers");
    await page.waitForURL(/\/items\/[0-9a-f-]{36}$/);
    await expectGoodPage(page);
    for (const words of [
      "70% Cotton, 30% Silk",
      "Hand wash cold.",
      "Keep away from flame.",
      "Woven in USA of imported yarn",
    ])
      expect(await page.getByText(words).count()).toBeGreaterThan(0);
    await page.getByText("Why it says so").click();
    expect(await page.getByText("16 CFR 303.33").count()).toBeGreaterThan(0);
    const picture = page.getByRole("img", { name: /as it will print/ });
    await expect
      .poll(() =>
        picture.evaluate((image) => (image as unknown as { naturalWidth: number }).naturalWidth),
      )
      .toBeGreaterThan(200);
  });

  test("prints it once, and the tag says the same", async () => {
    await page.getByRole("link", { name: "Print its tag" }).click();
    await expectGoodPage(page);
    await press(page, /Make the file/);
    await page.waitForURL("**/tags/prints/**");
    await expectGoodPage(page);
    const [file] = await Promise.all([
      page.waitForEvent("download"),
      page.getByRole("link", { name: /Open the file/ }).click(),
    ]);
    const [sheet] = await pagesOf(await readFile(await file.path()));
    const words = await wordsOf(sheet!);
    for (const said of ["70% Cotton, 30% Silk", "Keep away from flame.", "Alder Creek Weavers"])
      expect(words).toContain(said);
    const item = await base.db.item.findFirstOrThrow();
    expect((await readBars(sheet!, 203)).map(({ text }) => text)).toEqual([item.tag]);
    await page.goto(`/tags?item=${item.id}`);
    expect(await page.getByText("Not printed yet (0)").count()).toBe(1);
  });

  test("a changed price makes the tag out of date, and the desk looks first", async () => {
    const item = await base.db.item.findFirstOrThrow();
    await page.goto(`/items/${item.id}/edit`);
    await page.getByLabel("Price", { exact: true }).fill("130");
    await press(page, "Save changes");
    await page.waitForURL(/\/items\/[0-9a-f-]{36}$/);
    await moveTo(base.db, sale, "entries-closed");
    await desk.goto("/desk");
    await scanAtDesk(desk, item.tag);
    await desk.getByRole("heading", { name: "Look first" }).waitFor();
    await expectGoodPage(desk);
    await desk.goto(`/desk/items/${item.tag}`);
    await desk.getByText("The tag on it is out of date").waitFor();
    await desk.getByText("Raised plant fibre flares up").waitFor();
    await expectGoodPage(desk);
    await press(desk, "Take it in");
    await desk.waitForURL(/\/desk\?/);
    const count = await base.db.itemCount.findUniqueOrThrow({ where: { itemId: item.id } });
    expect(count.onFloor).toBe(1);
  });

  test("the pages for stocks, printers and the name on labels are good pages too", async () => {
    for (const path of [
      "/stocks",
      "/stocks/new?like=care-strip",
      "/printers/new",
      "/tags?whose=sale",
    ]) {
      await desk.goto(path);
      await expectGoodPage(desk);
    }
    await page.goto("/account");
    await expectGoodPage(page);
  });
});
