import { existsSync } from "node:fs";
import pg from "pg";
import { type BrowserContext, chromium, type Page } from "playwright-core";
import { hashPin } from "../../actions/set-pin.ts";
import { hashToken } from "../../plugins/session/tokens.ts";
import type { Hall } from "./hall.ts";

const pin = "4071";
const token = "bench till";
const taught = { scanner: { gap: 500, suffix: "Enter" } };
const programs = ["/usr/bin/chromium", "/usr/bin/chromium-browser", "/usr/bin/google-chrome"];

export interface TillPage {
  page: Page;
  close(): Promise<void>;
}

/** A headless Chromium that is a till of this hall, with its whole list of goods and a cashier. */
export async function openTillPage(hall: Hall): Promise<TillPage> {
  const executablePath = programs.find((path) => existsSync(path));
  if (!executablePath) throw new Error("The benches of the till's page need Chromium.");
  await enrol(hall);
  const browser = await chromium.launch({ executablePath, args: ["--no-sandbox"] });
  const context = await browser.newContext({ baseURL: hall.address });
  await context.addCookies([
    { name: "thrumbook-till", value: encodeURIComponent(token), url: hall.address },
  ]);
  // The machine may pause between two keys for longer than a scanner does.
  await context.addInitScript(`localStorage.setItem("till-settings", '${JSON.stringify(taught)}')`);
  const page = await firstStart(context);
  return { page, close: () => browser.close() };
}

async function enrol({ databaseUrl, tills, cashierId }: Hall): Promise<void> {
  const client = new pg.Client({ connectionString: databaseUrl });
  await client.connect();
  await client.query("UPDATE member SET pin_hash = $1 WHERE id = $2", [
    await hashPin(pin),
    cashierId,
  ]);
  await client.query(
    "INSERT INTO till_device (till_id, name, token_hash, enrolled_by_id) VALUES ($1, 'Bench', $2, $3)",
    [tills[0]!.id, hashToken(token), cashierId],
  );
  await client.end();
}

/** The first start brings the goods and the kept copy of the page; both take their time. */
async function firstStart(context: BrowserContext): Promise<Page> {
  const page = await context.newPage();
  page.setDefaultTimeout(180_000);
  await page.goto("/till/");
  await page.evaluate("navigator.serviceWorker.ready.then(() => undefined)");
  await sitDown(page);
  return page;
}

export async function sitDown(page: Page): Promise<void> {
  await page.locator("#seat-pin").fill(pin);
  await page.keyboard.press("Enter");
  await page.locator("#selling").waitFor();
  await page.locator("#bar-age.good").waitFor();
}
