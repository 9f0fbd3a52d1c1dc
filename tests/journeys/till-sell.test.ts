import type { Browser, Page } from "playwright-core";
import { afterAll, beforeAll, beforeEach, expect, test } from "vitest";
import { expectGoodPage, laptop, phone, startBrowser } from "../support/browser.ts";
import { openTill, scanLikeAScanner, serveTill } from "../support/till-page.ts";
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

const scan = (text: string): Promise<void> => scanLikeAScanner(page, text);
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
  await said("Sold already");
  expect(await page.locator("#signal").textContent()).toContain("at till 3");
  expect(await lines()).toBe(1);
  expect(await page.locator("#tender-form").isVisible()).toBe(false);
});

test("a piece that came back meanwhile can be sold, and one sold while cash was counted cannot", async () => {
  await page.evaluate(`knobs.soldElsewhere.push("${tagOf(104, 2)}")`);
  await scan(tagOf(104, 2));
  await scan(tagOf(104, 1));
  await page.keyboard.press("Enter");
  await page.keyboard.press("c");
  await said("Sold already");
  await page.evaluate("knobs.soldElsewhere.pop()");
  await scan(tagOf(104, 2));
  await said("Added");
  await page.keyboard.press("Enter");
  await page.keyboard.press("c");
  await page.locator("#notes button").first().click();
  await page.evaluate(`knobs.hearSold("${tagOf(104, 1)}")`);
  await page.locator("#record").click();
  await said("Sold already");
  expect([await lines(), await recorded()]).toEqual([1, 0]);
  await page.locator("#record").click();
  await page.locator("#done").waitFor();
  expect(await page.evaluate("knobs.past[0].lines.map(({ tag }) => tag)")).toEqual([tagOf(104, 2)]);
});

test("a wrong clock is told in plain words and stops no sale", async () => {
  const clock = page.locator("#bar-clock");
  expect(await clock.isVisible()).toBe(false);
  await page.evaluate("knobs.setState({ clockAhead: -3 * 3_600_000 })");
  await page.getByText("This device's clock is 3 hours slow.").waitFor();
  await expectGoodPage(page);
  await scan(tagOf(104, 1));
  await page.keyboard.press("Enter");
  await page.keyboard.press("c");
  await page.locator("#notes button").first().click();
  await page.locator("#record").click();
  await page.locator("#done").waitFor();
  expect(await recorded()).toBe(1);
  await page.evaluate("knobs.setState({ clockAhead: 60_000 })");
  await clock.waitFor({ state: "hidden" });
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

test("a receipt of another till: only what has not come back yet can come back", async () => {
  await scan(tagOf(104, 4));
  await page
    .locator("#lines")
    .getByRole("button", { name: /one (piece )?more/ })
    .click();
  await page.locator('#tender-keys [value="cash"]').click();
  await page.locator("#notes button").first().click();
  await page.locator("#record").click();
  await page.locator("#done").waitFor();
  // The same sale as till 3 made it, with one piece of two that came back somewhere.
  await page.evaluate(`{
    const own = knobs.past[0];
    const other = (id) => id.replace(/^.{8}/, "00000003");
    const lines = own.lines.map((line) => ({ ...line, id: other(line.id) }));
    const fact = { ...own, id: other(own.id), number: 17, lines };
    knobs.answers["3-0017"] = { kind: "found", receipt: { name: "3-0017", fact, returned: { [lines[0].id]: 1 } } };
    knobs.answers["3-0018"] = { kind: "silent" };
  }`);
  await page.locator("#to-receipts").click();
  const find = async (text: string) => {
    await page.locator("#find").fill(text);
    await page.locator("#find").press("Enter");
  };
  await find("3-18");
  await page.getByText("the server does not answer now").waitFor();
  await find("3-19");
  await page.getByText("The server has no receipt 3-0019").waitFor();
  await find("3-17");
  await page.getByRole("heading", { name: "Receipt 3-0017" }).waitFor();
  await page.getByText("Till 3", { exact: false }).first().waitFor();
  await page.getByRole("button", { name: "Take pieces back" }).click();
  await page.getByText("Pieces of receipt 3-0017 that come back").waitFor();
  await page.getByText("1 can come back").waitFor();
  await page
    .locator("#receipt")
    .getByRole("button", { name: /one (piece )?more/ })
    .click();
  await page.locator("#return-reason").fill("Too long");
  await page.getByRole("button", { name: "Exchange for other pieces" }).click();
  await page.getByText("Exchange: pieces of receipt 3-0017 pay").waitFor();
  await scan(tagOf(104, 1));
  await page.keyboard.press("Enter");
  await page.locator("#record").waitFor();
  await page.locator('#tender-keys [value="cash"]').click();
  const notes = page.locator("#notes button").first();
  if (await notes.isVisible()) await notes.click();
  await page.locator("#record").click();
  await page.locator("#done").waitFor();
  expect(await page.evaluate("knobs.past.map(({ kind }) => kind)")).toEqual([
    "sale",
    "return",
    "sale",
  ]);
  expect(await page.evaluate("knobs.past[1].lines[0].quantity")).toBe(-1);
});

test("a key's letter works in the empty field, and what is typed there stays", async () => {
  await scan(tagOf(104, 1));
  await said("Added");
  const field = page.locator("#scan");
  await field.focus();
  await page.keyboard.press("c");
  await page.locator("#tender-form").waitFor();
  await page.keyboard.press("Escape");
  expect(await field.inputValue()).toBe("");
  await page.keyboard.press("1");
  await page.keyboard.press("w");
  await page.waitForTimeout(400);
  expect(await field.inputValue()).toBe("1w");
  expect(await page.locator("#ask-untagged").isVisible()).toBe(false);
});

test("a word for a basket on hold takes the place of the one that is offered", async () => {
  await scan(tagOf(104, 1));
  await said("Added");
  await page.getByRole("button", { name: "Hold, next customer" }).click();
  await page.locator("#hold-name").waitFor();
  await page.keyboard.type("blue coat");
  await page.getByRole("button", { name: "Hold it" }).click();
  await page.locator("#signal").getByText("“blue coat” is on hold").waitFor();
});

test("on a phone, a long list is one touch away from the ways to pay", async () => {
  await open(phone);
  for (let item = 1; item <= 6; item += 1) await scan(tagOf(104, item));
  await page.locator("#lines li").nth(5).waitFor();
  const inSight = () =>
    page.evaluate(
      "document.querySelector('#tender-keys').getBoundingClientRect().bottom <= innerHeight",
    );
  expect(await inSight()).toBe(false);
  await page.getByRole("link", { name: "Pay" }).click();
  await expect.poll(inSight).toBe(true);
  await scan(tagOf(104, 7));
  await page.locator("#lines li").nth(6).waitFor();
});

test.each([
  ["", "has promised to keep them"],
  ["?forgetful", "has not promised to keep them"],
])("the set-up says whether the browser keeps what the till stores%s", async (query, words) => {
  const other = await openTill(page.context(), query);
  await other.locator("#selling").waitFor();
  await other.getByRole("button", { name: "Set up" }).click();
  await other.locator("#lasting-words").getByText(words).waitFor();
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
