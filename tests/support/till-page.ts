import { readFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { build } from "esbuild";
import type { BrowserContext, Page } from "playwright-core";
import { buildViews } from "../../src/plugins/view-engine.ts";

const root = fileURLToPath(new URL("../..", import.meta.url));
const at = "http://till.test";

async function bundled(entry: string): Promise<string> {
  const { outputFiles } = await build({
    absWorkingDir: root,
    entryPoints: [entry],
    ...{ bundle: true, write: false, outdir: "unused", format: "esm", target: "es2022" },
    loader: { ".svg": "dataurl", ".woff2": "dataurl" },
    logLevel: "silent",
  });
  return outputFiles[0]!.text;
}

/** The selling screen with its real templates, styles and script upon parts in memory. */
export async function serveTill(context: BrowserContext): Promise<void> {
  const [script, styles] = await Promise.all([
    bundled("tests/browser/till/sell/fake-parts.ts"),
    bundled("src/browser/styles/styles.css"),
  ]);
  const body = buildViews(`${root}views`, (name) => `/${name}`)("shell", "till/shell/body", {
    ...{ title: "Till", language: "en", scripts: ["till.js"], errors: {}, errorList: [] },
  });
  const files: Record<string, [string, string]> = {
    "/till.js": ["text/javascript", script],
    "/styles.css": ["text/css", styles],
    "/icons.svg": ["image/svg+xml", readFileSync(`${root}src/browser/assets/icons.svg`, "utf8")],
    "/till/": ["text/html", body],
  };
  await context.route(`${at}/**`, (route) => {
    const [contentType, content] = files[new URL(route.request().url()).pathname] ?? [];
    return content === undefined
      ? route.fulfill({ status: 404, body: "" })
      : route.fulfill({ contentType, body: content });
  });
}

export async function openTill(context: BrowserContext, query = ""): Promise<Page> {
  const page = await context.newPage();
  await page.goto(`${at}/till/${query}`);
  return page;
}

/** The keys of a scanner, wherever the focus stands: none waits until the one before was heard. */
export async function scanLikeAScanner(page: Page, digits: string): Promise<void> {
  const keyboard = await page.context().newCDPSession(page);
  const keys = [...digits].map((key) => ({
    ...{ key, code: `Digit${key}`, text: key },
    windowsVirtualKeyCode: key.charCodeAt(0),
  }));
  const enter = { key: "Enter", code: "Enter", text: "\r", windowsVirtualKeyCode: 13 };
  await Promise.all(
    [...keys, enter].flatMap((key) => [
      keyboard.send("Input.dispatchKeyEvent", { type: "keyDown", ...key }),
      keyboard.send("Input.dispatchKeyEvent", { type: "keyUp", ...key, text: "" }),
    ]),
  );
  await keyboard.detach();
}
