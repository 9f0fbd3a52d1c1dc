import { type ChildProcess, spawn } from "node:child_process";
import { existsSync } from "node:fs";
import { AxeBuilder } from "@axe-core/playwright";
import { type Browser, chromium, type Page } from "playwright-core";
import { expect } from "vitest";
import type { TestApp } from "./app.ts";

const usual = [
  "/usr/bin/chromium",
  "/usr/bin/chromium-browser",
  "/usr/bin/google-chrome",
  "/Applications/Google Chrome.app/Contents/MacOS/Google Chrome",
  "/Applications/Chromium.app/Contents/MacOS/Chromium",
];

const found = process.env.CHROMIUM_PATH ?? usual.find((path) => existsSync(path));

const quiet = [
  "--no-sandbox",
  "--disable-gpu",
  "--no-first-run",
  "--disable-background-networking",
  "--disable-component-update",
  "--disable-sync",
];

/** The program of Chromium, or plain words on how to get one. */
function program(): string {
  if (found) return found;
  throw new Error(
    "The browser tests need Chromium. On Debian: apt-get install chromium. " +
      "Elsewhere install Chrome or Chromium, or name the program in CHROMIUM_PATH.",
  );
}

export const startBrowser = async (): Promise<Browser> =>
  chromium.launch({ executablePath: program(), args: quiet });

/** A browser on a folder of its own that can be ended as a flat battery ends it. */
export async function startKillable(folder: string) {
  const args = ["--headless", "--remote-debugging-port=0", `--user-data-dir=${folder}`];
  // A group of its own, so that its many processes end together.
  const child = spawn(program(), [...quiet, ...args, "about:blank"], {
    ...{ detached: true, stdio: ["ignore", "ignore", "pipe"] },
  });
  const browser = await chromium.connectOverCDP(await debuggerOf(child));
  const context = browser.contexts()[0];
  if (!context || child.pid === undefined) throw new Error("The browser did not open.");
  const group = -child.pid;
  const ended = new Promise((resolve) => child.once("exit", resolve));
  const kill = async () => {
    if (child.exitCode === null && child.signalCode === null) process.kill(group, "SIGKILL");
    await ended;
  };
  /** Closes it as a person does; only then is a cookie of the last half minute on the disk. */
  const close = async () => {
    const steering = await browser.newBrowserCDPSession();
    await steering.send("Browser.close").catch(() => undefined);
    await ended;
  };
  return { page: await context.newPage(), context, kill, close };
}

/** Chromium says on its error stream where it can be steered. */
const debuggerOf = ({ stderr }: ChildProcess): Promise<string> =>
  new Promise((resolve, reject) => {
    let said = "";
    stderr?.on("data", (part: Buffer) => {
      said += part.toString();
      const address = /DevTools listening on (ws:\S+)/.exec(said)?.[1];
      if (address) resolve(address);
    });
    stderr?.once("end", () => reject(new Error(`The browser did not start: ${said}`)));
  });

export const phone = { width: 390, height: 844 };
export const laptop = { width: 1280, height: 800 };

/** A page of the service, signed in by typing number and pass phrase as a person does. */
export async function signInAs(
  browser: Browser,
  base: TestApp,
  member: { number: number },
  passphrase: string,
  viewport = laptop,
): Promise<Page> {
  const context = await browser.newContext({
    viewport,
    baseURL: addressOf(base),
    acceptDownloads: true,
  });
  const page = await context.newPage();
  await page.goto("/sign-in");
  await page.getByLabel("E-mail or member number").fill(String(member.number));
  await page.getByLabel("Pass phrase").fill(passphrase);
  await page.getByRole("button", { name: "Sign in" }).click();
  await page.waitForURL((url) => !url.pathname.startsWith("/sign-in"));
  return page;
}

/**
 * Presses a button and waits until the page that follows stands, since what another person does next
 * may depend on it.
 */
export async function pressAndSee(page: Page, name: string, next: string): Promise<void> {
  await page.getByRole("button", { name, exact: true }).click();
  await page.getByRole("button", { name: next, exact: true }).waitFor();
}

/** Scans at the desk: digits and Enter, as soon as the field has the focus and no earlier. */
export async function scanAtDesk(page: Page, tag: string): Promise<void> {
  await page.locator("#f-code:focus").waitFor();
  await page.keyboard.type(tag);
  await page.keyboard.press("Enter");
}

export function addressOf({ app }: TestApp): string {
  const address = app.server.address();
  if (typeof address !== "object" || !address) throw new Error("The app does not listen.");
  return `http://127.0.0.1:${address.port}`;
}

/** No accessibility fault that axe can see, and no sideways scroll. */
export async function expectGoodPage(page: Page): Promise<void> {
  const result = await new AxeBuilder({ page })
    .withTags(["wcag2a", "wcag2aa", "wcag21aa", "wcag22aa"])
    .analyze();
  const faults = result.violations.map(({ id, nodes }) => ({
    id,
    where: nodes.map((node) => node.html.slice(0, 120)),
  }));
  expect({ page: page.url(), faults }).toEqual({ page: page.url(), faults: [] });
  const overflow = await page.evaluate(
    "document.documentElement.scrollWidth - document.documentElement.clientWidth",
  );
  expect({ page: page.url(), overflow }).toEqual({ page: page.url(), overflow: 0 });
}
