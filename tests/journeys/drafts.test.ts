import type { Browser, Page } from "playwright-core";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { hashPassphrase } from "../../src/actions/passphrase.ts";
import { startApp, type TestApp } from "../support/app.ts";
import { expectGoodPage, phone, signInAs, startBrowser } from "../support/browser.ts";
import { buildGuild, buildMember, buildSale } from "../support/build.ts";

const passphrase = "four warm woolly winters";

/** A member types an entry where the connection comes and goes. */
let base: TestApp;
let browser: Browser;
let page: Page;
let other: { number: number };

beforeAll(async () => {
  base = await startApp();
  browser = await startBrowser();
  await buildGuild(base.db);
  const passphraseHash = await hashPassphrase(passphrase);
  const member = await buildMember(base.db, ["member"], { passphraseHash });
  other = await buildMember(base.db, ["member"], { passphraseHash });
  await buildSale(base.db, { entryDeadline: new Date(Date.now() + 86_400_000) });
  page = await signInAs(browser, base, member, passphrase, phone);
});
afterAll(async () => {
  await browser?.close();
  await base?.close();
});

const press = (name: string) => page.getByRole("button", { name, exact: true }).click();
const told = () => page.locator("[data-draft-told]").textContent();
const offer = () => page.locator("[data-draft-offer]");
const description = () => page.getByLabel("Short description");
const price = () => page.getByLabel("Price", { exact: true });
const keptHere = () =>
  page.evaluate(
    `new Promise((resolve) => {
      const opening = indexedDB.open("thrumbook-drafts");
      opening.onsuccess = () => {
        const all = opening.result.transaction("typed").objectStore("typed").getAll();
        all.onsuccess = () => { opening.result.close(); resolve(all.result.length); };
      };
    })`,
  );

describe("typing where the connection comes and goes", () => {
  test("what is typed is kept on the device and at the server", async () => {
    await page.goto("/items/new");
    expect(await offer().isVisible()).toBe(false);
    await page.getByLabel("What is it?").selectOption("scarf");
    await description().fill("Moss scarf");
    await expect.poll(told, { timeout: 15_000 }).toMatch(/^Kept at .* under Drafts/);
    const [draft] = await base.db.entryDraft.findMany();
    expect(draft?.fields).toMatchObject({ kind: "scarf", description: "Moss scarf" });
    await expectGoodPage(page);
  });

  test("without a connection nothing is lost, and Save says so", async () => {
    await page.context().setOffline(true);
    await price().fill("45");
    await page.getByLabel("Fibre 1").first().selectOption("wool");
    await page.getByLabel("Percent 1").first().fill("100");
    await page.getByText("More about the label").click();
    await page.getByLabel("Strong hand-dyed colour").check();
    await expect.poll(told, { timeout: 15_000 }).toMatch(/^No connection: kept on this device/);
    await press("Save and get its number");
    await expect.poll(told, { timeout: 15_000 }).toMatch(/nothing was saved yet/);
    expect(await price().inputValue()).toBe("45");
    expect(new URL(page.url()).pathname).toBe("/items/new");
    await page.reload().catch(() => undefined);
    expect(await base.db.item.count()).toBe(0);
  });

  test("after a reload it is offered, and goes on where it stopped", async () => {
    await page.context().setOffline(false);
    await page.goto("/items/new");
    await offer().waitFor();
    await expectGoodPage(page);
    expect(await description().inputValue()).toBe("");
    await press("Go on with what you typed");
    expect(await offer().isVisible()).toBe(false);
    expect([await description().inputValue(), await price().inputValue()]).toEqual([
      "Moss scarf",
      "45",
    ]);
    // Its part of the form is open, so that what stands in it is seen.
    expect(await page.getByLabel("Strong hand-dyed colour").isVisible()).toBe(true);
    expect(await page.getByLabel("Strong hand-dyed colour").isChecked()).toBe(true);
  });

  test("a refused form keeps the draft, and entering takes it away everywhere", async () => {
    await press("Save and get its number");
    await page.getByRole("alert").waitFor();
    expect(await offer().isVisible()).toBe(false);
    expect(await base.db.entryDraft.count()).toBe(1);
    await page.getByLabel("I have read this and agree").check();
    await press("Save and get its number");
    await page.waitForURL((url) => url.pathname !== "/items");
    expect([await base.db.item.count(), await base.db.entryDraft.count()]).toEqual([1, 0]);
    await page.goto("/items/new");
    await expect.poll(keptHere).toBe(0);
    expect(await offer().isVisible()).toBe(false);
  });

  test("starting empty puts it under Drafts, where it can be gone on with", async () => {
    await description().fill("Grey runner");
    await expect.poll(told, { timeout: 15_000 }).toMatch(/^Kept at/);
    await page.goto("/items/new");
    await offer().waitFor();
    await press("Start empty");
    expect(await description().inputValue()).toBe("");
    await page.goto("/items");
    await expectGoodPage(page);
    await page.getByRole("link", { name: "Grey runner" }).click();
    expect(await description().inputValue()).toBe("Grey runner");
    await price().fill("30");
    await press("Keep as a draft");
    await page.waitForURL("**/items?**");
    const [draft] = await base.db.entryDraft.findMany();
    expect(draft?.fields).toMatchObject({ description: "Grey runner", price: "30" });
    await page.goto("/items/many");
    expect(await offer().isVisible()).toBe(false);
  });

  test("signing out leaves nothing for the next person at this device", async () => {
    await page.goto("/items/new");
    await description().fill("Secret plan");
    await expect.poll(keptHere).toBe(1);
    // Sent by this page or, when that was left too soon, by the next one.
    await page.goto("/items");
    await expect.poll(() => base.db.entryDraft.count()).toBe(2);
    await page.getByText("Menu", { exact: true }).click();
    await page.getByRole("button", { name: "Sign out" }).last().click();
    await page.waitForURL("**/sign-in**");
    await expect.poll(keptHere).toBe(0);
    await page.getByLabel("E-mail or member number").fill(String(other.number));
    await page.getByLabel("Pass phrase").fill(passphrase);
    await press("Sign in");
    await page.goto("/items/new");
    await page.waitForLoadState("networkidle");
    expect(await offer().isVisible()).toBe(false);
    await page.goto("/items");
    expect(await page.getByText("Secret plan").count()).toBe(0);
  });
});
