import { describe, expect, test } from "vitest";
import { printReceipt, type ReceiptData } from "../../src/printing/receipt.ts";
import { pagesOf, textsOf, wordsOf } from "../support/pdf.ts";

const options = { createdAt: new Date("2027-04-24T09:42:00Z") };

const receipt: ReceiptData = {
  guildName: "Guild of the Long Shed",
  guildLines: ["1 Warp Lane"],
  saleName: "Spring sale",
  receiptNumber: "A-000123",
  at: "24 April 2027, 11:42",
  cashier: "Zoë",
  till: "A",
  kind: "sale",
  lines: [
    {
      tag: "104-001-17",
      description: "Überwurf für Łukasz, Köper ½ breit, with a fringe that takes a second line",
      quantity: "1",
      unitPrice: "$86.00",
      amount: "$86.00",
    },
    {
      tag: "112-004-09",
      description: "Tea towel",
      quantity: "3",
      unitPrice: "$24.00",
      amount: "$72.00",
    },
  ],
  sums: [
    { label: "Before tax", amount: "$158.00" },
    { label: "Sales tax 8.875 %", amount: "$14.02" },
  ],
  inside: [],
  total: "$172.02",
  copy: false,
  tenders: [
    { label: "Card", amount: "$100.00", reference: "approval 5531" },
    { label: "Cash", amount: "$72.02" },
  ],
  cashGiven: "$80.00",
  change: "$7.98",
  footer: "Thank you.",
};

async function read(data: ReceiptData) {
  const pages = await pagesOf(await printReceipt(data, options));
  expect(pages).toHaveLength(1);
  const texts = await textsOf(pages[0]!);
  const [, , width, height] = pages[0]!.view.map((points) => (points * 25.4) / 72);
  return { words: await wordsOf(pages[0]!), texts, width: width!, height: height! };
}

describe("a receipt", () => {
  test("has every word and figure", async () => {
    const { words } = await read(receipt);
    for (const text of [
      "Guild of the Long Shed",
      "1 Warp Lane",
      "Spring sale",
      "A-000123",
      "24 April 2027, 11:42",
      "Till A",
      "Served by Zoë",
      "Überwurf für Łukasz, Köper ½ breit",
      "second line",
      "104-001-17",
      "112-004-09 · 3 × $24.00",
      "$86.00",
      "$72.00",
      "Before tax $158.00",
      "Sales tax 8.875 % $14.02",
      "Total $172.02",
      "Card, approval 5531 $100.00",
      "Cash $72.02",
      "Cash given $80.00",
      "Change $7.98",
      "Thank you.",
    ]) {
      expect(words).toContain(text);
    }
    expect(words).not.toContain("1 × $86.00");
  });

  test("stays inside the 72 mm that a roll printer reaches", async () => {
    const { texts, width } = await read({ ...receipt, guildName: "Long name ".repeat(12) });
    expect(Math.abs(width - 80)).toBeLessThan(0.01);
    for (const { text, x, width: length, size } of texts) {
      expect(x, text).toBeGreaterThan(3.99);
      expect(x + length, text).toBeLessThan(76.01);
      expect(size, text).toBeGreaterThanOrEqual(6);
    }
  });

  test("is as long as its content", async () => {
    const short = await read({ ...receipt, lines: receipt.lines.slice(1) });
    const long = await read({ ...receipt, lines: Array(200).fill(receipt.lines[1]) });
    for (const { texts, height } of [short, long]) {
      const lowest = Math.max(...texts.map(({ baseline }) => baseline));
      expect(height - lowest).toBeGreaterThan(3);
      expect(height - lowest).toBeLessThan(10);
    }
    expect(long.height).toBeGreaterThan(short.height + 1000);
  });

  test.each([
    ["sale", "Receipt A-000123"],
    ["return", "Return A-000123"],
    ["void", "Void receipt A-000123"],
  ] as const)("of a %s says so", async (kind, title) => {
    const { words } = await read({ ...receipt, kind });
    expect(words).toContain(title);
    expect(words.includes("This sale was called off. Nothing is owed on it.")).toBe(
      kind === "void",
    );
  });

  test("leaves out what there is none of", async () => {
    const { cashier, cashGiven, change, ...rest } = receipt;
    expect([cashier, cashGiven, change]).not.toContain(undefined);
    const { words } = await read(rest);
    expect(words).not.toMatch(/Served by|Cash given|Change/);
  });

  test("has the same bytes for the same input", async () => {
    const once = await printReceipt(receipt, options);
    const again = await printReceipt(receipt, options);
    expect(Buffer.from(once).equals(Buffer.from(again))).toBe(true);
  });
});
