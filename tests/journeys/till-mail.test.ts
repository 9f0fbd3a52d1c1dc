import type { Browser, Page } from "playwright-core";
import { afterAll, beforeAll, beforeEach, expect, test } from "vitest";
import { expectGoodPage, laptop, startBrowser } from "../support/browser.ts";
import { openTill, serveTill } from "../support/till-page.ts";
import { tagOf } from "../support/till-scene.ts";

let browser: Browser;
let page: Page;
beforeAll(async () => {
  browser = await startBrowser();
});
afterAll(() => browser.close());
beforeEach(async () => {
  const context = await browser.newContext({ viewport: laptop });
  const taught = JSON.stringify({ scanner: { gap: 120, suffix: "Enter" } });
  await context.addInitScript(`localStorage.setItem("till-settings", '${taught}')`);
  await serveTill(context);
  page = await openTill(context);
  await page.locator("#selling").waitFor();
});

async function sellOne(item: number): Promise<void> {
  await page.keyboard.type(tagOf(104, item));
  await page.keyboard.press("Enter");
  await page.locator("#lines li").first().waitFor();
  await page.keyboard.press("Enter");
  await page.keyboard.press("c");
  await page.locator("#tender-form").waitFor();
  await page.keyboard.type("200");
  await page.keyboard.press("Enter");
  await page.keyboard.press("Enter");
  await page.locator("#done").waitFor();
}

interface Kept {
  address: string;
  receiptId: string;
}
const kept = () => page.evaluate("knobs.mails") as Promise<Kept[]>;
const lastId = () => page.evaluate("knobs.past.at(-1).id") as Promise<string>;

test("the receipt goes by e-mail with one key and one field, and the address is forgotten", async () => {
  await sellOne(1);
  await page.keyboard.press("e");
  await page.locator("#ask-mail[open]").waitFor();
  expect(await page.evaluate("document.activeElement.id")).toBe("mail-address");
  await expectGoodPage(page);
  await page.keyboard.type("buyer");
  await page.keyboard.press("Enter");
  await page.getByText("Write the address like name@example.org").waitFor();
  await page.locator("#mail-address").fill("4111111111111111@example.org");
  await page.keyboard.press("Enter");
  await page
    .locator("#ask-mail [data-error]")
    .getByText(/card number/i)
    .waitFor();
  expect(await kept()).toEqual([]);
  await page.locator("#mail-address").fill("buyer@example.org");
  await page.keyboard.press("Enter");
  await page
    .locator("#done-mailed")
    .getByText(/The receipt goes out by e-mail/)
    .waitFor();
  expect(await kept()).toMatchObject([{ address: "buyer@example.org", receiptId: await lastId() }]);
  expect(await page.locator("#done-mail").isVisible()).toBe(false);
  expect(await page.locator("#mail-address").inputValue()).toBe("");
  expect(await page.content()).not.toContain("buyer@example.org");
  await expectGoodPage(page);
});

test("the next customer is asked anew", async () => {
  await sellOne(2);
  await page.locator("#done-mail").click();
  await page.locator("#mail-address").fill("first@example.org");
  await page.keyboard.press("Enter");
  await page.locator("#done-mailed").waitFor();
  await page.locator("#next").click();
  await sellOne(3);
  expect(await page.locator("#done-mail").isVisible()).toBe(true);
  expect(await page.locator("#done-mailed").isVisible()).toBe(false);
  expect(await kept()).toHaveLength(1);
});

test("a device that stores nothing says that the address was not kept", async () => {
  await sellOne(4);
  await page.evaluate('knobs.refusal = "This device stores nothing."');
  await page.keyboard.press("e");
  await page.locator("#mail-address").fill("buyer@example.org");
  await page.keyboard.press("Enter");
  await page
    .getByText("This device did not keep the address. Print the receipt instead.")
    .waitFor();
  expect(await page.locator("#done-mail").isVisible()).toBe(true);
});
