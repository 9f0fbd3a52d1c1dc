import type { Page } from "playwright-core";
import { expect } from "vitest";

/**
 * Two addresses that differ only in ids, numbers and search words show the same page. What sold can
 * be narrowed in sixty-odd ways at once: with any of them it is one sort of page.
 */
const shapeOf = (address: string): string => {
  const { pathname, searchParams } = new URL(address, "http://localhost");
  const path = pathname.replace(/[0-9a-f]{8}-[0-9a-f-]{27}/g, "id").replace(/\/\d+/g, "/n");
  const narrowed = path.startsWith("/bench/sold") && searchParams.size > 0;
  return `${path}?${narrowed ? "narrowed" : [...searchParams.keys()].sort().join("&")}`;
};

/** Files and the API's own document are not pages; what a device shows as a till has tests of its own. */
const isPage = (href: string): boolean =>
  /^\/(?!api\/|till\/(\?|$))/.test(href) && !/pdf|\.(svg|jpg|txt|csv|xml|zip)(\?|$)/.test(href);

/** Opens these pages and every page that links lead to from them, each sort once. */
export async function crawl(
  page: Page,
  starts: readonly string[],
  look: (shape: string) => Promise<void>,
  leaveOut: (path: string) => boolean = () => false,
): Promise<string[]> {
  const found = new Map(starts.map((path) => [shapeOf(path), path]));
  for (const [shape, path] of found) {
    const answer = await page.goto(path);
    expect({ path, status: answer?.status() }).toEqual({ path, status: 200 });
    const hrefs = await page.evaluate<string[]>(
      `[...document.querySelectorAll("a[href]")].map((link) => link.getAttribute("href").split("#")[0])`,
    );
    await look(shape);
    for (const href of hrefs.filter((one) => isPage(one) && !leaveOut(one)))
      if (!found.has(shapeOf(href))) found.set(shapeOf(href), href);
  }
  return [...found.keys()];
}

/** Everything the browser complains of: a refused style or script, a missing file, a fault. */
export function complaintsOf(page: Page): string[] {
  const complaints: string[] = [];
  page.on("console", (message) => {
    if (["error", "warning"].includes(message.type()))
      complaints.push(`${page.url()}: ${message.text()}`);
  });
  page.on("pageerror", (error) => complaints.push(`${page.url()}: ${error.message}`));
  return complaints;
}

/** Finds what a finger would miss: under 44 px high or wide, or 24 px for a link within a text. */
const smallTargets = `(() => {
  const boxOf = (node) => {
    const own = node.getBoundingClientRect();
    const label = /checkbox|radio/.test(node.type) && node.labels[0];
    if (!label) return own;
    const words = (node.closest(".choice") ?? label).getBoundingClientRect();
    return { width: words.right - own.left, height: Math.max(own.height, words.height) };
  };
  const shown = (node) =>
    node.checkVisibility({ visibilityProperty: true }) && !node.closest(".skip, .hidden-words");
  return [...document.querySelectorAll("a[href], button, input, select, textarea, summary")]
    .filter((node) => node.type !== "hidden" && shown(node))
    .map((node) => {
      const { width, height } = boxOf(node);
      const inText = node.tagName === "A" && getComputedStyle(node).display === "inline";
      return { node, width, height, least: inText ? 24 : 43.9 };
    })
    .filter(({ width, height, least }) => height < least || width < Math.min(least, 43.9))
    .map(({ node, width, height }) =>
      node.tagName + " " + (node.textContent.trim() || node.name) + ": " +
      Math.floor(width) + " x " + Math.floor(height));
})()`;

export async function expectTargets(page: Page): Promise<void> {
  const small = await page.evaluate<string[]>(smallTargets);
  expect({ page: page.url(), small }).toEqual({ page: page.url(), small: [] });
}

/** Nothing is cut off and nothing scrolls sideways at this width. */
export async function expectFits(page: Page, width: number, height: number): Promise<void> {
  await page.setViewportSize({ width, height });
  const overflow = await page.evaluate(
    "document.documentElement.scrollWidth - document.documentElement.clientWidth",
  );
  expect({ page: page.url(), width, overflow }).toEqual({ page: page.url(), width, overflow: 0 });
}
