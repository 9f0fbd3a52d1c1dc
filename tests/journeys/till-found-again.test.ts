import { readFile } from "node:fs/promises";
import type { Browser } from "playwright-core";
import { afterAll, beforeAll, expect, test } from "vitest";
import { markTillLost } from "../../src/actions/mark-till-lost.ts";
import { signedIn, startApp, type TestApp } from "../support/app.ts";
import { addressOf, expectGoodPage, laptop, startBrowser } from "../support/browser.ts";
import { deedOf } from "../support/build.ts";
import { done } from "../support/build-settlement.ts";
import { buildHall, buildPieces } from "../support/build-till.ts";
import { lineTo } from "../support/cut-line.ts";
import { expectSound } from "../support/sound.ts";
import { becomeTill, sellForCash, sitDown, tillCode } from "../support/till-counter.ts";
import { givePin, type Hall } from "../support/till-device.ts";

let base: TestApp;
let hall: Hall;
let line: Awaited<ReturnType<typeof lineTo>>;
let browser: Browser;
beforeAll(async () => {
  base = await startApp();
  hall = await buildHall(base.db, 1);
  await givePin(base, hall.cashier);
  line = await lineTo(Number(new URL(addressOf(base)).port));
  browser = await startBrowser();
});
afterAll(async () => {
  await browser?.close();
  await line?.close();
  await base?.close();
});

test("a device that was noted as lost saves its receipts, comes back by a code, and all counts once", async () => {
  const pieces = await buildPieces(base.db, hall.sale, hall.weaver, [
    { price: 4_500 },
    { price: 900 },
  ]);
  const context = await browser.newContext({ viewport: laptop, acceptDownloads: true });
  const page = await context.newPage();
  await becomeTill(page, line.url, await tillCode(base, hall));
  line.cut();
  await sellForCash(page, pieces[0]!.tag);
  await page.getByText("1 receipt unsent").waitFor();
  const [file] = await Promise.all([
    page.waitForEvent("download"),
    page.getByRole("button", { name: "Save unsent to a file" }).click(),
  ]);
  const saved = await readFile(await file.path());

  const till = { saleId: hall.sale.id, tillId: hall.tills[0]!.id };
  const deed = () => deedOf(base.db, hall.chair);
  done(await markTillLost(deed(), { ...till, reason: "Nobody can find it" }));
  const treasurer = await signedIn(base, hall.treasurer);
  const brought = await treasurer.upload(`/sales/${hall.sale.id}/unsent`, {}, saved);
  expect(brought.text).toContain("Till 1: 1 entry is recorded.");

  // It turns up, sells once more, and the server does not let it in.
  line.mend();
  await page.getByRole("link", { name: "Type a code of the chair" }).waitFor({ timeout: 60_000 });
  await expectGoodPage(page);
  // The key that saved the file has the focus, so Enter would save it once more.
  await page.getByRole("button", { name: "Next customer" }).click();
  await sellForCash(page, pieces[1]!.tag);
  await page.getByText("2 receipts unsent").waitFor();
  await page.getByRole("link", { name: "Type a code of the chair" }).click();
  await page.getByRole("link", { name: "Back to the till without a code" }).waitFor();
  await expectGoodPage(page);
  await page.getByLabel("Code of the chair").fill(await tillCode(base, hall));
  await page.getByLabel("Name of this device").fill("Grey laptop");
  await page.getByRole("button", { name: "Make it a till" }).click();
  await sitDown(page);
  await page.getByText("All is sent").waitFor({ timeout: 60_000 });

  const receipts = await base.db.receipt.findMany({ orderBy: { number: "asc" } });
  expect(receipts.map(({ number }) => number)).toEqual([1, 2]);
  await expectSound(
    base.db,
    receipts.map(({ id }) => id),
  );
});
