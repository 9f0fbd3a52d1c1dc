import type { Browser, Page } from "playwright-core";
import { afterAll, beforeAll, beforeEach, expect, test } from "vitest";
import { recordReceipt } from "../../src/actions/record-receipt.ts";
import { signedIn, startApp, type TestApp } from "../support/app.ts";
import { addressOf, expectGoodPage, laptop, startBrowser } from "../support/browser.ts";
import { deedOf } from "../support/build.ts";
import { buildHall, buildPieces, expectBooks, receiptFor } from "../support/build-till.ts";

let service: TestApp;
let hall: Awaited<ReturnType<typeof buildHall>>;
let browser: Browser;
let page: Page;
beforeAll(async () => {
  service = await startApp();
  hall = await buildHall(service.db);
  browser = await startBrowser();
});
afterAll(async () => {
  await browser.close();
  await service.close();
});
beforeEach(async () => {
  const context = await browser.newContext({ viewport: laptop, baseURL: addressOf(service) });
  const { token } = await signedIn(service, hall.cashier);
  const url = addressOf(service);
  await context.addCookies([{ name: "thrumbook-access", value: token, url }]);
  page = await context.newPage();
  await page.goto(`/till/${hall.tills[0]!.id}`);
});

const pieces = (...wanted: Parameters<typeof buildPieces>[3]) =>
  buildPieces(service.db, hall.sale, hall.weaver, wanted);

/** Types on the keyboard alone, wherever the focus stands. */
async function type(text: string): Promise<void> {
  await page.keyboard.type(text);
  await page.keyboard.press("Enter");
}

const signal = (word: string) => page.locator("#signal").getByText(word, { exact: true });

test("a whole sale by keyboard: scan, split payment, change, next customer", async () => {
  const [scarf, stack] = await pieces({ price: 4_500 }, { price: 900, quantity: 3 });
  await type(scarf!.tag);
  await signal("Added").waitFor();
  await type(scarf!.tag);
  await signal("Already here").waitFor();
  await type(`${scarf!.tag.slice(0, 6)}00`);
  await signal("Read it again").waitFor();
  await type(stack!.tag);
  await signal("Added").waitFor();
  await page.keyboard.press("Enter");
  await page.keyboard.press("k");
  await page.keyboard.press("ControlOrMeta+a");
  await page.keyboard.type("20");
  await page.keyboard.press("Tab");
  await type("T-9");
  await page.keyboard.press("c");
  await type("40");
  await expectGoodPage(page);
  await page.keyboard.press("Enter");
  // 54.00 and 4.46 of tax, less 20.00 by card, leave 38.46; 40.00 in cash gives 1.54 back.
  await page.locator("#done").waitFor({ state: "visible" });
  expect(await page.locator("#done-change").textContent()).toBe("$1.54");
  await expectGoodPage(page);
  await page.keyboard.press("Enter");
  expect(await page.locator("#lines li").count()).toBe(0);
  expect(await page.evaluate("document.activeElement.id")).toBe("scan");
});

test("a reload loses nothing, and a line that was taken off can be put back", async () => {
  const [scarf, towel] = await pieces({ price: 4_500 }, { price: 900 });
  await type(scarf!.tag);
  await signal("Added").waitFor();
  await type(towel!.tag);
  await page.locator("#lines li").nth(1).waitFor();
  await page.reload();
  expect(await page.locator("#lines li").count()).toBe(2);
  await page.locator(`#remove-${scarf!.tag}`).click();
  expect(await page.locator("#lines li").count()).toBe(1);
  await page.getByRole("button", { name: "Put it back" }).click();
  const first = await page.locator("#lines li").first().textContent();
  expect(first).toContain("$45.00");
});

test("when the answer is lost, the same receipt goes out again and is recorded once", async () => {
  const [scarf] = await pieces({ price: 4_500 });
  const bodies: string[] = [];
  await page.route("**/api/sales/*/receipts", async (route) => {
    bodies.push(route.request().postData() ?? "");
    if (bodies.length > 1) return route.continue();
    await route.fetch();
    return route.abort("connectionreset");
  });
  await type(scarf!.tag);
  await signal("Added").waitFor();
  await page.keyboard.press("Enter");
  await page.keyboard.press("c");
  await type("50");
  await page.keyboard.press("Enter");
  await page.getByText("Sending again").waitFor();
  await page.locator("#done-before").waitFor({ state: "visible" });
  expect(bodies).toHaveLength(2);
  expect(bodies[1]).toBe(bodies[0]);
  const lines = await service.db.receiptLine.findMany({ where: { itemId: scarf!.id } });
  expect(lines).toHaveLength(1);
});

test("a page that was closed while sending sends the same receipt when it is back", async () => {
  const [scarf] = await pieces({ price: 4_500 });
  await page.route("**/api/sales/*/receipts", (route) => route.abort("connectionreset"));
  await type(scarf!.tag);
  await signal("Added").waitFor();
  await page.keyboard.press("Enter");
  await page.keyboard.press("c");
  await type("50");
  await page.keyboard.press("Enter");
  await page.getByText("Sending again").waitFor();
  await page.unroute("**/api/sales/*/receipts");
  await page.reload();
  await page.locator("#done").waitFor({ state: "visible" });
  const lines = await service.db.receiptLine.findMany({ where: { itemId: scarf!.id } });
  expect(lines).toHaveLength(1);
});

test("a piece sold elsewhere meanwhile is named, taken off, and the rest goes on", async () => {
  const [scarf, towel, home] = await pieces(
    { price: 4_500 },
    { price: 900 },
    { price: 1, onFloor: 0 },
  );
  await type(home!.tag);
  await signal("Not on the floor").waitFor();
  await type(scarf!.tag);
  await signal("Added").waitFor();
  await type(towel!.tag);
  await page.locator("#lines li").nth(1).waitFor();
  const deed = deedOf(service.db, hall.chair);
  const other = { ...receiptFor(hall.tills[1]!, [scarf!]), saleId: hall.sale.id };
  expect((await recordReceipt(deed, other)).ok).toBe(true);
  await page.keyboard.press("Enter");
  await page.keyboard.press("c");
  await type("100");
  await page.keyboard.press("Enter");
  await signal("Sold already").waitFor();
  expect(await page.locator("#signal").textContent()).toContain("sold at till 2, receipt 2-");
  expect(await page.locator("#record").isDisabled()).toBe(true);
  await page.locator(`#remove-${scarf!.tag}`).click();
  await page.locator("#record").click();
  await page.locator("#done").waitFor({ state: "visible" });
  expect(await page.locator("#done-change").textContent()).toBe("$90.26");
  expect(await expectBooks(service.db)).toEqual({ ledger: 0, pieces: 0 });
});
