import { mkdtemp, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, expect, test } from "vitest";
import { startApp, type TestApp } from "../support/app.ts";
import { addressOf, expectGoodPage, phone, startKillable } from "../support/browser.ts";
import { buildHall, buildPieces, expectBooks } from "../support/build-till.ts";
import { lineTo } from "../support/cut-line.ts";
import { sellForCash, sitDown, tillCode, type, waitUntilKept } from "../support/till-counter.ts";
import { givePin } from "../support/till-device.ts";

let service: TestApp;
let hall: Awaited<ReturnType<typeof buildHall>>;
let line: Awaited<ReturnType<typeof lineTo>>;
let folder: string;
let browser: Awaited<ReturnType<typeof startKillable>> | undefined;
beforeAll(async () => {
  service = await startApp();
  hall = await buildHall(service.db, 1);
  await givePin(service, hall.cashier);
  line = await lineTo(Number(new URL(addressOf(service)).port));
  folder = await mkdtemp(join(tmpdir(), "thrumbook-till-"));
});
afterAll(async () => {
  await browser?.kill();
  await line?.close();
  await service?.close();
  await rm(folder, { recursive: true, force: true });
});

test("a till opens, sells and remembers without its server, and a dead battery loses nothing", async () => {
  const [first, second, third] = await buildPieces(service.db, hall.sale, hall.weaver, [
    { price: 4_500 },
    { price: 900, quantity: 2 },
    { price: 2_000 },
  ]);

  browser = await startKillable(folder);
  let { page } = browser;
  await page.setViewportSize(phone);
  await page.goto(`${line.url}/till/`);
  await page.getByLabel("Code of the chair").fill(await tillCode(service, hall));
  await page.getByLabel("Name of this device").fill("Grey laptop");
  await expectGoodPage(page);
  await page.getByRole("button", { name: "Make it a till" }).click();
  await page.getByRole("heading", { name: "Who sells here?" }).waitFor();
  await expectGoodPage(page);
  await waitUntilKept(page);
  await sitDown(page);
  await page.getByText("On line").waitFor();
  await page.getByText(/^Prices from/).waitFor();

  // The evening before: the device is enrolled, then shut down.
  await browser.close();
  line.cut();
  browser = await startKillable(folder);
  page = browser.page;
  await page.setViewportSize(phone);
  await page.goto(`${line.url}/till/`);
  await sitDown(page);
  await sellForCash(page, first!.tag);
  await page.getByText("1 receipt unsent").waitFor();
  // The same piece is sold on this till, whatever the server's list says.
  await page.keyboard.press("Enter");
  // A tag that comes again within a moment is taken for a double reading of the scanner.
  await page.waitForTimeout(1_000);
  await type(page, first!.tag);
  await page
    .locator("#signal")
    .getByText(/receipt 1-0001/)
    .waitFor();
  await type(page, second!.tag);
  await page.locator("#lines li").first().waitFor();
  // A line shows before it is kept; only a receipt waits for the disk.
  await page.waitForTimeout(1_000);

  await browser.kill();
  browser = await startKillable(folder);
  page = browser.page;
  await page.goto(`${line.url}/till/`);
  await sitDown(page);
  await page.getByText("1 receipt unsent").waitFor();
  await page.locator("#lines li").first().waitFor();
  expect(await page.locator("#lines li").count()).toBe(1);
  await sellForCash(page, third!.tag);
  await page.getByText("2 receipts unsent").waitFor();

  line.mend();
  await page.getByText("All is sent").waitFor({ timeout: 45_000 });
  const receipts = await service.db.receipt.findMany({ orderBy: { number: "asc" } });
  expect(receipts.map(({ number }) => number)).toEqual([1, 2]);
  expect(await expectBooks(service.db)).toEqual({ ledger: 0, pieces: 0 });

  const tab = await browser.context.newPage();
  await tab.goto(`${line.url}/till/`);
  await tab.getByText("The till is open in another tab").waitFor();
  await expectGoodPage(tab);
  await tab.getByRole("button", { name: "Use it here" }).click();
  await tab.getByRole("heading", { name: "Who sells here?" }).waitFor();
  await page.getByText("The till is open in another tab").waitFor();
});
