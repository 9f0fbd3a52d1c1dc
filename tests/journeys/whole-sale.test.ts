import { readFile } from "node:fs/promises";
import type { Browser, Page } from "playwright-core";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { offerSetUp } from "../../src/actions/set-up-guild.ts";
import { checkBooks } from "../../src/database/check-books.ts";
import { showTag } from "../../src/rules/tag-number.ts";
import { startApp, type TestApp } from "../support/app.ts";
import {
  addressOf,
  expectGoodPage,
  laptop,
  phone,
  pressAndSee,
  scanAtDesk,
  startBrowser,
} from "../support/browser.ts";
import { pagesOf, wordsOf } from "../support/pdf.ts";
import { makeTill, sellByKeyboard } from "../support/till-steps.ts";

/** A sale in the browser, from an empty service to a printed statement, as six people do it. */
let base: TestApp;
let browser: Browser;
const pages: Record<string, Page> = {};
const tags: string[] = [];

beforeAll(async () => {
  base = await startApp();
  browser = await startBrowser();
});
afterAll(async () => {
  await browser?.close();
  await base?.close();
});

async function freshPage(viewport = laptop): Promise<Page> {
  const context = await browser.newContext({
    viewport,
    baseURL: addressOf(base),
    acceptDownloads: true,
  });
  return context.newPage();
}

const allWords = async (bytes: Uint8Array): Promise<string> =>
  (await Promise.all((await pagesOf(bytes)).map(wordsOf))).join(" ");

const press = (page: Page, name: string) => page.getByRole("button", { name, exact: true }).click();
/** In UTC: the guild's own calendar may be a day behind, so the sale begins with yesterday. */
const day = (ahead: number): string =>
  new Date(Date.now() + ahead * 86_400_000).toISOString().slice(0, 10);

describe("a whole sale in the browser", () => {
  test("the chair sets up the guild by the one-time link", async () => {
    const page = await freshPage();
    await page.goto(`/set-up/${await offerSetUp(base.db)}`);
    await expectGoodPage(page);
    await page.getByLabel("Name of the guild").fill("Alder Creek Weavers");
    await page.getByLabel("Your name").fill("Hazel Rook");
    await page.getByLabel("Your e-mail").fill("hazel@example.org");
    await page.getByLabel("Your pass phrase").fill("too short");
    await press(page, "Set up the guild");
    // A fault is told at its field, and what was typed is still there.
    await expectGoodPage(page);
    expect(await page.title()).toMatch(/^Error: /);
    expect(await page.getByLabel("Your name").inputValue()).toBe("Hazel Rook");
    await page.getByLabel("Your pass phrase").fill("four warm woolly winters");
    await press(page, "Set up the guild");
    await page.waitForURL("**/sales");
    pages.chair = page;
  });

  test("adds members, each with a link of their own", async () => {
    const chair = pages.chair as Page;
    for (const [name, role, view] of [
      ["Greta Thistle", "member", phone],
      ["Ines Larkspur", "desk", laptop],
      ["Orla Quill", "cashier", laptop],
      ["Marta Fennel", "treasurer", laptop],
    ] as const) {
      await chair.goto("/members/new");
      await chair.getByLabel("Name", { exact: true }).fill(name);
      await chair.locator(`input[name="roles"][value="${role}"]`).check();
      await press(chair, "Add member");
      const number = await base.db.member.findFirstOrThrow({ where: { name } });
      await chair.goto(`/members/${number.id}/link`);
      await press(chair, "Make the link");
      const link = await chair.getByLabel("The link").inputValue();
      const page = await freshPage(view);
      await page.goto(new URL(link).pathname);
      await page.getByLabel("Pass phrase").fill(`${name} spins by the fire`);
      await press(page, "Set pass phrase and sign in");
      await page.waitForURL((url) => url.pathname === "/");
      await expectGoodPage(page);
      pages[role] = page;
    }
    await expectGoodPage(chair);
  });

  test("plans the sale with a till and opens the entries", async () => {
    const page = pages.chair as Page;
    await page.goto("/sales/new");
    await page.getByLabel("Name", { exact: true }).fill("Autumn sale");
    await page.getByLabel("First day").fill(day(-1));
    await page.getByLabel("Last day").fill(day(2));
    await page.getByLabel("Entries end").fill(`${day(1)}T12:00`);
    await page.getByLabel("The guild keeps").fill("20");
    await page.getByLabel("Tax added at the till").fill("8.25");
    await page.getByLabel("Lowest price").fill("5");
    await page.getByLabel("Prices go in steps of").fill("1");
    await page.getByLabel("Wording").fill("Everything is my own work.");
    await expectGoodPage(page);
    await press(page, "Plan this sale");
    await page.waitForURL(/\/sales\/[0-9a-f-]{36}$/);
    const sale = page.url();
    await page.goto(`${sale}/tills`);
    await page.getByLabel("What people call it").last().fill("Front till");
    await press(page, "Add till");
    await page.goto(sale);
    await press(page, "Open entries");
    await expectGoodPage(page);
  });

  test("a member enters three pieces on the phone and gets a number for each at once", async () => {
    const page = pages.member as Page;
    for (const [index, [description, price]] of [
      ["Scarf, indigo twill", "150"],
      ["Kitchen towel, waffle", "34"],
      ["Shawl, painted warp", "240"],
    ].entries()) {
      await page.goto("/items/new");
      await page.getByLabel("What is it?").selectOption({ index: 1 });
      await page.getByLabel("Short description").fill(description as string);
      await page.getByLabel("Price", { exact: true }).fill(price as string);
      await page.getByLabel("Fibre 1").first().selectOption({ label: "Cotton" });
      if (index === 0) {
        await expectGoodPage(page);
        await page.getByLabel("I have read this and agree").check();
      }
      await press(page, "Save and get its number");
      await page.waitForURL((url) => !url.pathname.endsWith("/new"));
    }
    const items = await base.db.item.findMany({ orderBy: { number: "asc" } });
    tags.push(...items.map(({ tag }) => tag));
    expect(tags).toHaveLength(3);
    await page.goto("/items");
    await expectGoodPage(page);
    expect(
      await page.getByText(tags[0]?.replace(/(\d{3})(\d{3})(\d{2})/, "$1-$2-$3") as string).count(),
    ).toBe(1);
  });

  test("and prints the tags", async () => {
    const page = pages.member as Page;
    await page.goto("/tags");
    await expectGoodPage(page);
    await page.getByRole("button", { name: /Make the file/ }).click();
    await page.waitForURL("**/tags/prints/**");
    await expectGoodPage(page);
    const [file] = await Promise.all([
      page.waitForEvent("download"),
      page.getByRole("link", { name: /Open the file/ }).click(),
    ]);
    const words = await allWords(await readFile(await file.path()));
    expect(words).toContain("$150.00");
    for (const tag of tags)
      expect(words).toContain(tag.replace(/(\d{3})(\d{3})(\d{2})/, "$1-$2-$3"));
  });

  test("the desk takes them in with the keyboard alone", async () => {
    const chair = pages.chair as Page;
    await chair.goto("/sales");
    await chair.getByRole("link", { name: "Autumn sale" }).click();
    await pressAndSee(chair, "Close entries", "Start selling");
    const page = pages.desk as Page;
    await page.goto("/desk");
    for (const tag of tags) {
      await scanAtDesk(page, tag);
      // The page before looks alike, so this piece's own number is waited for.
      await page.locator(".desk-result.good .hero").getByText(showTag(tag)).waitFor();
      await expectGoodPage(page);
    }
    const counts = await base.db.itemCount.aggregate({ _sum: { onFloor: true } });
    expect(counts._sum.onFloor).toBe(3);
    await pressAndSee(chair, "Start selling", "End selling and settle");
  });

  test("the chair makes a device the till; the cashier takes it over with a PIN", () =>
    makeTill(base.db, pages.chair as Page, pages.cashier as Page));

  test("the cashier sells two pieces with the keyboard alone and gives change", () =>
    sellByKeyboard(pages.cashier as Page, tags));

  test("two people count the drawer and close the till", async () => {
    const page = pages.cashier as Page;
    const till = await base.db.till.findFirstOrThrow();
    await page.goto(`/till/${till.id}/cash-up`);
    await expectGoodPage(page);
    await page.getByLabel("Cash counted").fill("249.18");
    await page.getByLabel("Who counted with you").fill("Marta Fennel");
    await press(page, "Compare with the books");
    await page.waitForURL("**/cash-ups/**");
    await expectGoodPage(page);
  });

  test("the treasurer settles, prints the statement and pays", async () => {
    const chair = pages.chair as Page;
    const sale = await base.db.sale.findFirstOrThrow();
    await chair.goto(`/sales/${sale.id}`);
    await press(chair, "End selling and settle");
    const page = pages.treasurer as Page;
    await page.goto(`/books/${sale.id}/settlement`);
    await expectGoodPage(page);
    await page.getByRole("link", { name: "Go on to settle" }).click();
    await expectGoodPage(page);
    await press(page, "Settle now");
    await page.waitForURL("**/books/settlements/**");
    await expectGoodPage(page);
    const statement = await base.db.statement.findFirstOrThrow({ where: { gross: { gt: 0 } } });
    expect(statement).toMatchObject({ gross: 18_400n, guildShare: 3_680n, net: 14_720n });
    await page.goto(`/books/statements/${statement.id}`);
    await expectGoodPage(page);
    await page.locator('input[name="method"][value="cheque"]').check();
    await page.getByLabel("Cheque number or transfer reference").fill("No. 2041");
    await press(page, "Record the payout");
    await page.locator(".notice.good").first().waitFor();
    await page.goto(`/books/statements/${statement.id}`);
    await page.getByText("No. 2041").first().waitFor();
    await expectGoodPage(page);
  });

  test("the member sees what sold and what was paid, on the phone", async () => {
    const page = pages.member as Page;
    await page.goto("/results");
    await expectGoodPage(page);
    expect(await page.getByText("$147.20").count()).toBeGreaterThan(0);
    const own = await base.db.statement.findFirstOrThrow({ where: { gross: { gt: 0 } } });
    const answer = await page.request.get(`/api/statements/${own.id}/pdf`);
    const words = await allWords(await answer.body());
    for (const amount of ["$184.00", "$36.80", "$147.20"]) expect(words).toContain(amount);
  });

  test("and the books account for every piece and every cent", async () => {
    const books = await checkBooks(base.db);
    expect(books.checks.filter(({ broken }) => broken)).toEqual([]);
    expect(books.unaccounted).toEqual({ pieces: 0, money: 0 });
  });
});
