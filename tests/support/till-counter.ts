import type { Page } from "playwright-core";
import { expect } from "vitest";
import { makeTillCode } from "../../src/actions/make-till-code.ts";
import type { TestApp } from "./app.ts";
import { deedOf } from "./build.ts";
import type { Hall } from "./till-device.ts";

export const tillCode = async ({ db }: TestApp, { chair, sale, tills }: Hall): Promise<string> => {
  const given = { saleId: sale.id, tillId: tills[0]!.id, now: new Date() };
  const made = await makeTillCode(deedOf(db, chair), given);
  if (!made.ok) throw new Error(made.problem.detail);
  return made.value.code;
};

/** Makes a device the hall's first till and waits until it keeps the page and the prices. */
export async function becomeTill(page: Page, address: string, code: string): Promise<void> {
  await page.goto(`${address}/till/`);
  await page.getByLabel("Code of the chair").fill(code);
  await page.getByLabel("Name of this device").fill("Grey laptop");
  await page.getByRole("button", { name: "Make it a till" }).click();
  await page.getByRole("heading", { name: "Who sells here?" }).waitFor();
  await waitUntilKept(page);
  await sitDown(page);
  await page.getByText("On line").waitFor();
  await page.getByText(/^Prices from/).waitFor();
}

/** Asked from outside: a question that waits inside the page is one that its policy forbids. */
export const waitUntilKept = (page: Page): Promise<void> =>
  expect
    .poll(() => page.evaluate("navigator.serviceWorker.controller !== null"), { timeout: 60_000 })
    .toBe(true);

/** Takes the till over with the PIN; ends when the counter shows what the device has kept. */
export async function sitDown(page: Page): Promise<void> {
  await page.getByRole("heading", { name: "Who sells here?" }).waitFor();
  await page.getByLabel("PIN").fill("4071");
  await page.keyboard.press("Enter");
  await page.locator("#selling").waitFor();
  await page.locator("#bar-unsent").getByText(/./).waitFor();
}

/** Types on the keyboard alone, wherever the focus stands. */
export async function type(page: Page, text: string): Promise<void> {
  await page.keyboard.type(text);
  await page.keyboard.press("Enter");
}

/** Scans a piece and sells it for cash, or goes on with what is on the counter; `step` comes before each step. */
export async function sellForCash(
  page: Page,
  tag?: string,
  step: () => void = () => {},
): Promise<void> {
  step();
  if (tag) await type(page, tag);
  step();
  await page.locator("#lines li").first().waitFor();
  // What was on the counter when the browser died may have been paid already.
  if (await page.getByRole("button", { name: "Finish the sale" }).isDisabled()) {
    step();
    await page.getByRole("button", { name: /^Cash/ }).click();
    step();
    await type(page, "100");
  }
  step();
  await page.getByRole("button", { name: "Finish the sale" }).click();
  step();
  await page.locator("#done").waitFor();
}
