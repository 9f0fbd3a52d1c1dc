import type { Page } from "playwright-core";
import { expect } from "vitest";
import type { Database } from "../../src/database/client.ts";
import { expectGoodPage } from "./browser.ts";

const press = (page: Page, name: string | RegExp) =>
  page.getByRole("button", { name, exact: true }).click();

/** The chair makes the cashier's device a till, and the cashier takes it over with a new PIN. */
export async function makeTill(db: Database, chair: Page, page: Page): Promise<void> {
  const sale = await db.sale.findFirstOrThrow();
  await chair.goto(`/sales/${sale.id}/tills`);
  await press(chair, /^Make a code/);
  const code = (await chair.locator(".hero").textContent()) as string;
  await expectGoodPage(chair);
  await page.goto("/account");
  await page.getByLabel("New PIN").fill("4071");
  await press(page, "Set this PIN");
  await page.goto("/till");
  await page
    .getByRole("link", { name: /till 1/i })
    .first()
    .click();
  await page.getByLabel("Float in the drawer").fill("50");
  await press(page, "Open the till");
  await page.goto("/till/");
  await page.getByLabel("Code of the chair").fill(code);
  await page.getByLabel("Name of this device").fill("Grey laptop");
  await press(page, "Make it a till");
  await page.getByRole("heading", { name: "Who sells here?" }).waitFor();
  await expectGoodPage(page);
  await page.getByLabel("PIN").fill("4071");
  await page.keyboard.press("Enter");
  await page.locator("#selling").waitFor();
}

/** Sells two pieces for cash on the keyboard alone; then a piece that is sold, and a misread. */
export async function sellByKeyboard(page: Page, tags: readonly string[]): Promise<void> {
  await expectGoodPage(page);
  for (const tag of tags.slice(0, 2)) {
    await page.keyboard.type(tag);
    await page.keyboard.press("Enter");
    await page.locator("#signal").getByText("Added", { exact: true }).waitFor();
  }
  expect(await page.locator("#total").textContent()).toBe("$199.18");
  await page.keyboard.press("Enter");
  await page.keyboard.press("c");
  await page.locator("#tender-amount").fill("200");
  await page.keyboard.press("Enter");
  await expectGoodPage(page);
  await page.locator("#record").focus();
  await page.keyboard.press("Enter");
  await page.locator("#done-change").waitFor();
  await expectGoodPage(page);
  expect(await page.locator("#done-change").textContent()).toContain("$0.82");
  await page.getByText("All is sent").waitFor();
  await page.keyboard.press("Enter");
  // The same piece again: the till says that it is sold, and where.
  await page.waitForTimeout(1_000);
  await page.keyboard.type(tags[0] as string);
  await page.keyboard.press("Enter");
  await page
    .locator("#signal")
    .getByText(/1-0001/)
    .waitFor();
  // One digit wrong: the check digits catch it before the server is asked.
  const mistyped = `${(tags[2] as string).slice(0, -1)}${(Number((tags[2] as string).at(-1)) + 1) % 10}`;
  await page.keyboard.type(mistyped);
  await page.keyboard.press("Enter");
  await page.locator("#signal").getByText("Read it again").waitFor();
}
