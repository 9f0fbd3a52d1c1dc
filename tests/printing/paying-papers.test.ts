import { describe, expect, test } from "vitest";
import { printLetter } from "../../src/printing/letter-words.ts";
import { printCheques, printSignatures } from "../../src/printing/run-words.ts";
import type { PreparedRun, RunItem } from "../../src/rules/paying/run.ts";
import { pagesOf, textsOf, wordsOf } from "../support/pdf.ts";

/** Letter paper in millimetres, and the margin of every paper of ours. */
const [width, margin] = [215.9, 16];
const longName =
  "Wilhelmina Featherstonehaugh-Cholmondeley of the Upper and Lower Looms and Spindles";

const item = (position: number, more: Partial<RunItem> = {}): RunItem => ({
  position,
  statementId: `s${position}`,
  statementNumber: position,
  memberId: `m${position}`,
  memberNumber: 100 + position,
  payee: `Weaver ${position}`,
  account: "",
  bank: "",
  amount: 10_000 + position,
  message: `Autumn sale, statement ${position}`,
  reference: String(1_000 + position),
  outcome: null,
  reason: "",
  payoutId: null,
  voided: false,
  endedBy: "",
  endedAt: null,
  ...more,
});

const run = (items: RunItem[], more: Partial<PreparedRun["heading"]> = {}): PreparedRun => ({
  id: "r",
  number: 7,
  method: "cheque",
  saleId: null,
  day: "2026-12-05",
  heading: {
    guildName: "Alder Creek Weavers",
    guildLines: ["12 Mill Lane"],
    saleName: null,
    currency: "USD",
    locale: "en-US",
    timeZone: "America/Chicago",
    paper: "letter",
    payer: { name: "Alder Creek Weavers", account: "", bank: "" },
    ...more,
  },
  byName: "Ada",
  at: new Date("2026-12-01T12:00:00Z"),
  items,
});

async function expectInside(bytes: Uint8Array) {
  for (const page of await pagesOf(bytes))
    for (const { text, x, width: wide } of await textsOf(page)) {
      expect(x, text).toBeGreaterThan(margin - 0.1);
      expect(x + wide, text).toBeLessThan(width - margin + 0.1);
    }
}

describe("a list of cheques", () => {
  test("breaks over pages between cheques, each with its number, words and page", async () => {
    const bytes = await printCheques(run(Array.from({ length: 60 }, (_, at) => item(at + 1))));
    await expectInside(bytes);
    const pages = await Promise.all((await pagesOf(bytes)).map(wordsOf));
    expect(pages.length).toBeGreaterThan(2);
    pages.forEach((words, index) => {
      expect(words).toContain(`page ${index + 1} of ${pages.length}`);
      expect(words).toContain("60 payments, $6,018.30");
      const numbers = words.match(/\b10[0-6]\d\b/g)?.length;
      expect(words.match(/One hundred and \d\d\/100 dollars/g)).toHaveLength(numbers ?? 0);
    });
    const whole = pages.join(" ");
    for (let number = 1_001; number <= 1_060; number += 1)
      expect(whole.split(String(number)), String(number)).toHaveLength(2);
  });

  test("keeps long names and large amounts inside, and leaves out what was dropped", async () => {
    const items = [
      item(1, { payee: longName, amount: 99_999_999_900 }),
      item(2, { outcome: "dropped", reason: "Spoilt" }),
      item(3, { outcome: "paid", payoutId: "p" }),
    ];
    const bytes = await printCheques(run(items));
    await expectInside(bytes);
    const words = await wordsOf((await pagesOf(bytes))[0]!);
    expect(words).toContain("Nine hundred ninety-nine million");
    expect(words).toContain("$999,999,999.00");
    expect([words.includes("1002"), words.includes("1003")]).toEqual([false, true]);
  });

  test.each([
    ["fr-CA", "CAD", "Cent dollars et 01/100"],
    ["de-DE", "EUR", "Einhundert Euro und 01/100"],
    ["en-GB", "GBP", "One hundred pounds and 01p"],
  ])("of a guild that writes %s is in its language", async (locale, currency, wanted) => {
    const bytes = await printCheques(run([item(1)], { locale, currency, paper: "a4" }));
    expect(await wordsOf((await pagesOf(bytes))[0]!)).toContain(wanted);
  });

  test("is the same to the byte each time", async () => {
    const items = [item(1), item(2)];
    expect(Buffer.from(await printCheques(run(items))).equals(await printCheques(run(items)))).toBe(
      true,
    );
  });
});

test("a list to sign for cash has two lines for each member, over pages", async () => {
  const bytes = await printSignatures(
    run([item(1, { payee: longName }), ...Array.from({ length: 24 }, (_, at) => item(at + 2))]),
  );
  await expectInside(bytes);
  const whole = (await Promise.all((await pagesOf(bytes)).map(wordsOf))).join(" ");
  expect(whole.match(/Signature of the member/g)).toHaveLength(25);
  expect(whole.match(/Witness/g)).toHaveLength(25);
});

test("a letter names member, amount and day, and promises nothing else", async () => {
  const bytes = await printLetter(
    {
      memberNumber: 104,
      memberName: longName,
      postalLine: "1 Weir Road",
      statementNumber: 12,
      saleName: "Autumn sale",
      amount: 6_798,
      owedSince: "2026-11-27",
      today: "2027-01-06",
    },
    {
      name: "Alder Creek Weavers",
      address: "12 Mill Lane\n",
      currency: "USD",
      locale: "en-US",
      paper: "letter",
    },
  );
  await expectInside(bytes);
  const words = await wordsOf((await pagesOf(bytes))[0]!);
  for (const text of ["$67.98", "Nov 27, 2026", "Jan 6, 2027", "1 Weir Road", "stays yours"])
    expect(words).toContain(text);
});
