import type { Browser, Page } from "playwright-core";
import { afterAll, beforeAll, beforeEach, expect, test } from "vitest";
import { expectGoodPage, laptop, phone, startBrowser } from "../support/browser.ts";
import { openTill, serveTill } from "../support/till-page.ts";
import { tagOf } from "../support/till-scene.ts";

let browser: Browser;
let page: Page;
beforeAll(async () => {
  browser = await startBrowser();
});
afterAll(() => browser.close());
beforeEach(() => open(laptop));

async function open(viewport: { width: number; height: number }): Promise<void> {
  const context = await browser.newContext({ viewport });
  // Keys from the test come slower than a scanner's on a busy machine, so the till is taught that.
  const taught = JSON.stringify({ scanner: { gap: 120, suffix: "Enter" } });
  await context.addInitScript(`localStorage.setItem("till-settings", '${taught}')`);
  await serveTill(context);
  page = await openTill(context);
  await page.locator("#selling").waitFor();
}

/** Types as quickly as a scanner, wherever the focus stands. */
async function scan(text: string): Promise<void> {
  await page.keyboard.type(text);
  await page.keyboard.press("Enter");
}
const lines = () => page.locator("#lines li").count();
const said = (words: string) => page.locator("#signal").getByText(words, { exact: true }).waitFor();
const recorded = () => page.evaluate("knobs.past.length") as Promise<number>;

test("thirty sales by keyboard alone, each stored before its change is shown", async () => {
  for (let sale = 1; sale <= 30; sale += 1) {
    // Every fifth piece is a stack of three or a set; numbers above 48 cannot be sold here.
    await scan(tagOf(104, sale));
    await said("Added");
    await page.keyboard.press("Enter");
    await page.keyboard.press("c");
    await page.locator("#tender-form").waitFor();
    await page.keyboard.type("200");
    await page.keyboard.press("Enter");
    await page.keyboard.press("Enter");
    await page.locator("#done").waitFor();
    expect(await recorded()).toBe(sale);
    await page.keyboard.press("Enter");
    await page.locator("#desk").waitFor();
  }
  expect(await lines()).toBe(0);
});

test("a scan into a dialog or the amount adds the piece and leaves what was typed", async () => {
  await scan(tagOf(104, 1));
  await page.keyboard.press("Enter");
  await page.keyboard.press("c");
  await page.locator("#tender-form").waitFor();
  await page.keyboard.type("5");
  await page.waitForTimeout(400);
  await scan(tagOf(104, 2));
  expect(await lines()).toBe(2);
  expect(await page.locator("#tender-amount").inputValue()).toBe("5");
  await page.keyboard.press("Escape");
  await page.getByRole("button", { name: "Without a tag" }).click();
  await page.keyboard.type("Shawl");
  await page.waitForTimeout(400);
  await scan(tagOf(104, 3));
  expect(await lines()).toBe(3);
  expect(await page.locator("#untagged-description").inputValue()).toBe("Shawl");
  expect(await page.locator("#ask-untagged [data-signal]").textContent()).toContain("Added");
  await expectGoodPage(page);
});

test("what another till sold meanwhile is refused before money is taken", async () => {
  await page.evaluate(`knobs.soldElsewhere.push("${tagOf(104, 1)}")`);
  await scan(tagOf(104, 1));
  await scan(tagOf(104, 2));
  await page.keyboard.press("Enter");
  await page.keyboard.press("c");
  await said("Sold elsewhere");
  expect(await page.locator("#signal").textContent()).toContain("at till 3");
  expect(await lines()).toBe(1);
  expect(await page.locator("#tender-form").isVisible()).toBe(false);
});

test("a device that stores nothing sells nothing and says why", async () => {
  await scan(tagOf(104, 1));
  await page.keyboard.press("Enter");
  await page.keyboard.press("c");
  await page.locator("#notes button").first().click();
  await page.evaluate(`knobs.refusal = "This device is full."`);
  await page.locator("#record").click();
  await said("Please look");
  expect(await page.locator("#signal").textContent()).toContain("This device is full.");
  expect([await page.locator("#done").isVisible(), await recorded(), await lines()]).toEqual([
    false,
    0,
    1,
  ]);
});

test.each([
  ["laptop", laptop],
  ["phone", phone],
])("selling, paying, the receipts and the set-up are good pages on a %s", async (_, viewport) => {
  await open(viewport);
  await scan(tagOf(104, 4));
  await scan(tagOf(104, 51));
  await expectGoodPage(page);
  await page.locator('#tender-keys [value="cash"]').click();
  await page.locator("#notes button").first().click();
  await page.locator("#record").click();
  await page.locator("#done").waitFor();
  await expectGoodPage(page);
  await page.locator("#to-receipts").click();
  await page.getByRole("button", { name: /^Open/ }).click();
  await page.getByRole("button", { name: "Take pieces back" }).click();
  await expectGoodPage(page);
  await page.locator("#to-set-up").click();
  await expectGoodPage(page);
});
