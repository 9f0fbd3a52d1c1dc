import type { Browser } from "playwright-core";
import { afterAll, beforeAll, expect, test, vi } from "vitest";
import { startApp, type TestApp } from "../support/app.ts";
import { addressOf, expectGoodPage, laptop, startBrowser } from "../support/browser.ts";
import { buildHall, buildPieces } from "../support/build-till.ts";
import { lineTo } from "../support/cut-line.ts";
import { expectSound } from "../support/sound.ts";
import { becomeTill, sellForCash, tillCode } from "../support/till-counter.ts";
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

/** A device whose clock shows three hours too many, in a page and in all that it makes. */
const threeHoursFast = `{
  const Right = Date;
  const ahead = 3 * 3_600_000;
  globalThis.Date = class extends Right {
    constructor(...given) {
      if (given.length > 0) super(...given);
      else super(Right.now() + ahead);
    }
    static now() {
      return Right.now() + ahead;
    }
  };
}`;

test("a till with a wrong clock whose answers are lost sells, sends again, and the sale counts once", async () => {
  const [piece] = await buildPieces(base.db, hall.sale, hall.weaver, [{ price: 4_500 }]);
  const context = await browser.newContext({ viewport: laptop });
  await context.addInitScript(threeHoursFast);
  const page = await context.newPage();
  await becomeTill(page, line.url, await tillCode(base, hall));
  await page.getByText("This device's clock is 3 hours fast.").waitFor();
  await expectGoodPage(page);

  let lost = 0;
  line.become({
    delay: 0,
    fate(request) {
      if (!request.includes("/api/till/outbox")) return "good";
      lost += 1;
      return "answer lost";
    },
  });
  await sellForCash(page, piece!.tag);
  const patient = { timeout: 60_000, interval: 100 };
  await vi.waitFor(() => expect(lost).toBeGreaterThanOrEqual(3), patient);
  await vi.waitFor(async () => expect(await base.db.receipt.count()).toBe(1), patient);
  await page.getByText("1 receipt unsent").waitFor();
  line.mend();
  await page.getByText("All is sent").waitFor({ timeout: 60_000 });

  const receipt = await base.db.receipt.findFirstOrThrow();
  expect(receipt.madeAt.getTime() - receipt.at.getTime()).toBeGreaterThan(2 * 3_600_000);
  const notes = await base.db.discrepancy.findMany({ select: { kind: true } });
  expect(notes).toEqual([{ kind: "clock-off" }]);
  await expectSound(base.db, [receipt.id]);
});
