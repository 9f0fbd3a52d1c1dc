import type { Browser, Page } from "playwright-core";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { hashPassphrase } from "../../src/actions/passphrase.ts";
import { startApp, type TestApp } from "../support/app.ts";
import { expectGoodPage, laptop, phone, signInAs, startBrowser } from "../support/browser.ts";
import { buildGuild, buildMember, buildSale } from "../support/build.ts";
import { buildUnsold } from "../support/build-unsold.ts";

const passphrase = "four warm woolly winters";

/** Entering many pieces: the table on a laptop with its paste, a list and unsold pieces on a phone. */
let base: TestApp;
let browser: Browser;
let wide: Page;
let narrow: Page;
let memberId: string;

beforeAll(async () => {
  base = await startApp();
  browser = await startBrowser();
  await buildGuild(base.db);
  const passphraseHash = await hashPassphrase(passphrase);
  const member = await buildMember(base.db, ["member"], { passphraseHash });
  memberId = member.id;
  await buildUnsold(base.db, member, [
    { description: "Moss scarf" },
    { description: "Mug rugs", kind: "mug-rug", quantity: 3, price: 900 },
  ]);
  await buildSale(base.db, { entryDeadline: new Date(Date.now() + 86_400_000) });
  wide = await signInAs(browser, base, member, passphrase, laptop);
  narrow = await signInAs(browser, base, member, passphrase, phone);
});
afterAll(async () => {
  await browser?.close();
  await base?.close();
});

/** Asked once for each sale, by whichever entry comes first. */
const agree = async (on: Page) => {
  const box = on.getByLabel("I have read this and agree");
  if ((await box.count()) > 0) await box.check();
};

const press = (on: Page, name: string | RegExp) => on.getByRole("button", { name }).click();

/** As a person pastes; the words run in the page, so they stand here as text. */
const paste = (on: Page, field: string, cells: string) =>
  on.evaluate(`(() => {
    const clipboardData = new DataTransfer();
    clipboardData.setData("text/plain", ${JSON.stringify(cells)});
    const given = { clipboardData, bubbles: true, cancelable: true };
    document.getElementById("${field}").dispatchEvent(new ClipboardEvent("paste", given));
  })()`);

describe("many pieces", () => {
  test("cells of a spreadsheet are pasted across the table and entered", async () => {
    await wide.goto("/items/many");
    await expectGoodPage(wide);
    await wide.getByLabel("What are they?").selectOption("towel");
    await wide.getByLabel("Short description").fill("Huck towel");
    await wide.getByLabel("Price of each").fill("28");
    await wide.getByLabel("Fibre 1").first().selectOption("cotton");
    await paste(wide, "f-rows.0.colours", "Indigo\t\t18 x 28 in\nMoss\t\t\t30\n");
    expect(await wide.getByLabel("Other price, row 2", { exact: true }).inputValue()).toBe("30");
    expect(await wide.locator(".many-said").textContent()).toContain("2 rows are filled in");
    await wide.getByLabel("Colours, row 1", { exact: true }).press("Enter");
    expect(await wide.evaluate("document.activeElement.id")).toBe("f-rows.1.colours");
    await press(wide, "More rows");
    await wide.getByLabel("Colours, row 40", { exact: true }).waitFor();
    await agree(wide);
    await press(wide, "Save all rows");
    await wide.getByText("2 pieces entered").waitFor();
    expect(await base.db.item.count({ where: { memberId, description: "Huck towel" } })).toBe(2);
  });

  test("on a phone the table is rows, and the rest of them waits", async () => {
    await narrow.goto("/items/many");
    await expectGoodPage(narrow);
    expect(await narrow.getByLabel("Colours, row 5", { exact: true }).isVisible()).toBe(true);
    expect(await narrow.getByLabel("Colours, row 6", { exact: true }).isVisible()).toBe(false);
    await narrow.getByLabel("Show more rows").check();
    expect(await narrow.getByLabel("Colours, row 20", { exact: true }).isVisible()).toBe(true);
  });

  test("a list is looked at, entered and taken back on a phone", async () => {
    await narrow.goto("/items/spreadsheet");
    await expectGoodPage(narrow);
    const rows = ["Kind,Description,Price,Fibres", "Towel,Plain towel,24,linen", "Hat,Hat,x,silk"];
    await narrow.getByLabel("Paste the rows here").fill(rows.join("\n"));
    await press(narrow, "Look at the list");
    await expectGoodPage(narrow);
    await agree(narrow);
    await press(narrow, "Enter the 1 good row");
    await expectGoodPage(narrow);
    await press(narrow, /Take this list back/);
    await press(narrow, /Put back what was taken back/);
    await narrow.getByText("1 as entered").waitFor();
  });

  test("unsold pieces come again at a lower price, and one becomes a usual piece", async () => {
    await narrow.goto("/items/unsold");
    await expectGoodPage(narrow);
    await narrow.getByLabel("Moss scarf").check();
    await narrow.getByLabel("how much less?").fill("10");
    await press(narrow, "Go on to the prices");
    await expectGoodPage(narrow);
    expect(await narrow.getByLabel("New price").inputValue()).toBe("41.00");
    await agree(narrow);
    await press(narrow, "Enter this piece again");
    await narrow.getByRole("link", { name: "Moss scarf" }).click();
    await narrow.getByRole("link", { name: "Keep it as a usual piece" }).click();
    await expectGoodPage(narrow);
    await press(narrow, "Keep it");
    await expectGoodPage(narrow);
    await narrow.getByRole("link", { name: "Enter one" }).click();
    expect(await narrow.getByLabel("Short description").inputValue()).toBe("Moss scarf");
  });

  test("both buttons of the short form stay within reach of a thumb", async () => {
    await narrow.goto("/items/new");
    await expectGoodPage(narrow);
    for (const name of ["Save and get its number", "Save and enter another"]) {
      const box = await narrow.getByRole("button", { name }).boundingBox();
      const height = narrow.viewportSize()?.height ?? 0;
      expect(box && box.y > height / 2 && box.y + box.height <= height).toBe(true);
    }
  });
});
