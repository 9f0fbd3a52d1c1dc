import type { Browser, BrowserContextOptions, Page } from "playwright-core";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { signedIn, startApp, type TestApp } from "../support/app.ts";
import { addressOf, expectGoodPage, laptop, phone, startBrowser } from "../support/browser.ts";
import { buildThreeSales, passphrase } from "../support/build-three-sales.ts";
import { complaintsOf, crawl, expectFits, expectTargets } from "../support/crawl.ts";

/** Every page that a person can reach, looked at on a phone and on a laptop. */
let base: TestApp;
let browser: Browser;
let guild: Awaited<ReturnType<typeof buildThreeSales>>;

beforeAll(async () => {
  base = await startApp();
  guild = await buildThreeSales(base.db);
  browser = await startBrowser();
});
afterAll(async () => {
  await browser?.close();
  await base?.close();
});

type Person = { id: string; number: number };

async function pageFor(person: Person, more: BrowserContextOptions = {}): Promise<Page> {
  const baseURL = addressOf(base);
  const context = await browser.newContext({ viewport: phone, baseURL, ...more });
  const [name, value] = (await signedIn(base, person)).cookie.split("=") as [string, string];
  await context.addCookies([{ name, value, url: baseURL }]);
  return context.newPage();
}

/** Sorts of page that axe has read already; another role sees them with fewer buttons. */
const read = new Set<string>();

async function lookAtAll(person: Person, starts: string[]): Promise<string[]> {
  const page = await pageFor(person);
  const complaints = complaintsOf(page);
  const look = async (shape: string) => {
    await page.setViewportSize(phone);
    if (shape === "/?" || !read.has(shape)) await expectGoodPage(page);
    read.add(shape);
    await expectTargets(page);
    // 320 px is also what a laptop shows at 400 %, 640 px what it shows at 200 %.
    await expectFits(page, 320, 640);
    await expectFits(page, 640, 400);
    await expectFits(page, laptop.width, laptop.height);
    await expectTargets(page);
  };
  // The bench is the same for whoever sits at it; the weaver looks at all of it.
  const othersBench = (path: string) =>
    person !== guild.weaver && (path.startsWith("/bench/") || path.startsWith("/items/usual"));
  const seen = await crawl(page, ["/", ...starts], look, othersBench);
  await page.context().close();
  expect(complaints).toEqual([]);
  return seen;
}

/** Of a list only the first is opened; these lie further down and have more to show. */
const settledBooks = () => `/books/${guild.settled.sale.id}`;
const goodReceipt = () => `/receipts/${guild.receiptId}`;
const startsOf: Readonly<Record<string, () => string[]>> = {
  chair: () => [settledBooks(), goodReceipt()],
  treasurer: () => [settledBooks()],
  cashier: () => [goodReceipt()],
};

describe("every page reachable by links is good on phone and laptop", () => {
  test.each([
    ["chair", 50],
    ["treasurer", 20],
    ["desk", 14],
    ["cashier", 12],
    ["weaver", 12],
  ] as const)(
    "for the %s, at least %i sorts of page",
    async (role, least) => {
      const seen = await lookAtAll(guild[role], startsOf[role]?.() ?? []);
      expect(seen.length).toBeGreaterThanOrEqual(least);
    },
    600_000,
  );
});

test("a laptop shows the chair's busiest pages without a fault", async () => {
  const page = await pageFor(guild.chair, { viewport: laptop });
  const { id } = guild.selling;
  for (const path of ["/", "/members", `/sales/${id}/items`, `/books/${id}`, "/books/journal"]) {
    await page.goto(path);
    await expectGoodPage(page);
  }
});

test("the keyboard skips to the main part and from a fault to its field", async () => {
  const page = await pageFor(guild.chair);
  await page.goto("/sales/new");
  await page.keyboard.press("Tab");
  await page.keyboard.press("Enter");
  expect(await page.evaluate("document.activeElement.id")).toBe("main");
  await page.getByRole("button", { name: "Plan this sale" }).press("Enter");
  await page.locator(".error-summary:focus").waitFor();
  await page.keyboard.press("Tab");
  await page.keyboard.press("Enter");
  await page.keyboard.type("Summer sale");
  expect(await page.getByLabel("Name", { exact: true }).inputValue()).toBe("Summer sale");
});

describe("without JavaScript", () => {
  const plain = { javaScriptEnabled: false };
  const press = (page: Page, name: string) =>
    page.getByRole("button", { name, exact: true }).click();

  test("a member signs in, forgets a field, enters a piece and asks for its tag", async () => {
    const context = await browser.newContext({
      ...{ viewport: phone, baseURL: addressOf(base) },
      ...plain,
    });
    const page = await context.newPage();
    await page.goto("/items/new");
    await page.getByLabel("E-mail or member number").fill(String(guild.weaver.number));
    await page.getByLabel("Pass phrase").fill(passphrase);
    await press(page, "Sign in");
    await page.getByLabel("What is it?").selectOption({ label: "Scarf" });
    await page.getByLabel("Price", { exact: true }).fill("$ 85");
    await page.locator('[name="fibres.0.fibre"]').selectOption({ label: "Wool" });
    await page.locator('[name="fibres.0.percent"]').fill("300");
    await press(page, "Save and get its number");
    expect(await page.title()).toMatch(/^Error: /);
    expect(await page.getByLabel("Price", { exact: true }).inputValue()).toBe("$ 85");
    // The messages stand in narrow columns too, and must not make the page wider than a phone.
    await expectFits(page, 320, 640);
    await page.setViewportSize(phone);
    await page.locator('[name="fibres.0.percent"]').fill("100");
    await page.getByLabel("Short description").fill("Waffle scarf");
    await press(page, "Save and get its number");
    await page.getByText(/^Entered as /).waitFor();
    await page.getByText("Menu").click();
    await page.getByRole("link", { name: "My sales" }).first().click();
    await page.getByRole("heading", { name: "My sales" }).waitFor();
  });

  test("the desk takes a piece in and the treasurer finds a statement and pays it", async () => {
    const desk = await pageFor(guild.desk, plain);
    await desk.goto(`/desk?sale=${guild.selling.id}`);
    await desk.locator("#f-code").fill(guild.pieces.at(-1)?.tag ?? "");
    await press(desk, "Take in");
    await desk.getByRole("heading", { name: "Taken in" }).waitFor();

    const treasurer = await pageFor(guild.treasurer, plain);
    const settlement = await base.db.settlement.findFirstOrThrow();
    await treasurer.goto(`/books/settlements/${settlement.id}`);
    await treasurer.getByRole("link", { name: "To pay", exact: true }).click();
    await treasurer.locator("th a").first().click();
    await press(treasurer, "Record the payout");
    await treasurer.getByText("Give the number of the cheque.").first().waitFor();
    await treasurer.getByLabel("Cheque number or transfer reference").fill("2042");
    await press(treasurer, "Record the payout");
    await treasurer.locator(".notice.good").waitFor();
  });

  test("a forgotten reason leaves the form for a payout's return open", async () => {
    const page = await pageFor(guild.treasurer, plain);
    const payout = await base.db.payout.findFirstOrThrow();
    await page.goto(`/books/statements/${payout.statementId}`);
    await page.getByText("Take this payout back").click();
    await press(page, "Make it void");
    await page.getByLabel("Why").fill("Lost in the post");
    await press(page, "Make it void");
    await page.locator(".notice.good").waitFor();
  });

  test("the till says plainly that it needs it, and how to go on", async () => {
    const page = await pageFor(guild.cashier, plain);
    await page.goto("/till");
    await page.getByRole("link", { name: "Go to till 1" }).click();
    await page.getByRole("link", { name: "Open the till on this device" }).click();
    await page.getByText(/The till needs JavaScript/).waitFor();
  });
});
