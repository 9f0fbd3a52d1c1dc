import { expect, test } from "vitest";
import { type ClosingSheet, printClosingSheet } from "../../src/printing/closing-sheet.ts";
import { type DepositSlip, printDepositSlip } from "../../src/printing/deposit-slip.ts";
import { linesOf, pagesOf, textsOf, wordsOf } from "../support/pdf.ts";

const options = { paper: "letter", createdAt: new Date("2027-04-24T16:00:00Z") } as const;

const head = {
  guildName: "Guild of the Long Shed",
  guildLines: ["1 Warp Lane", "Shuttleton"],
  saleName: "Spring sale",
  saleDates: "Apr 24 – 25, 2027",
  till: "Till 2 · By the door",
  at: "Cashed up Apr 24, 2027, 4:00 PM",
};

const counts = [
  { value: "$20.00", count: "14", amount: "$280.00" },
  { value: "$0.25", count: "9", amount: "$2.25" },
];

const sheet = (more: Partial<ClosingSheet> = {}): ClosingSheet => ({
  head,
  facts: [
    { label: "Opened", value: "Apr 24, 2027, 8:40 AM, by Ada Sley" },
    { label: "Float", value: "$100.00 (4 × $20.00, 4 × $5.00)" },
    { label: "Receipts", value: "83, from 2-0001 to 2-0083" },
    { label: "Cash rounding", value: "-$0.12, in the cash below" },
  ],
  tenders: [
    { tender: "Cash", count: "30", amount: "$350.00" },
    { tender: "Cheque", count: "2", amount: "$61.40" },
  ],
  corrections: [
    { receipt: "2-0017", what: "Void of 2-0016", reason: "Rung up twice", amount: "-$12.00" },
  ],
  moves: [
    { what: "Cash to the safe", reason: "", who: "Ada Sley, Apr 24, 1:05 PM", amount: "$160.00" },
    { what: "Paid out", reason: "Tape", who: "Ada Sley, Apr 24, 2:10 PM", amount: "$7.50" },
  ],
  cash: [
    { label: "Float", amount: "$100.00" },
    { label: "Cash taken, returns taken off", amount: "$350.00" },
    { label: "Paid out", amount: "-$7.50" },
    { label: "Cash to the safe", amount: "-$160.00" },
  ],
  expected: "$282.50",
  counts,
  counted: "$282.25",
  difference: "The drawer holds $0.25 less than it should.",
  people: ["Ada Sley", "Żaneta Größe"],
  notes: ["A coin rolled away", "Counted before: $262.25, by Ada Sley and Żaneta Größe."],
  ...more,
});

const slip = (more: Partial<DepositSlip> = {}): DepositSlip => ({
  head,
  counts,
  counted: "$282.25",
  cheques: [
    { receipt: "2-0031", reference: "cheque 1182", amount: "$41.40" },
    { receipt: "2-0040", reference: "", amount: "$20.00" },
  ],
  chequeSum: "$61.40",
  steps: [
    { label: "Cash counted", amount: "$282.25" },
    { label: "Kept back as a float", amount: "-$100.00" },
    { label: "Cheques", amount: "$61.40" },
  ],
  total: "$243.65",
  ...more,
});

test("the closing sheet says all of a session, with two lines to sign on", async () => {
  const pages = await pagesOf(await printClosingSheet(sheet(), options));
  const words = (await Promise.all(pages.map(wordsOf))).join(" ");
  for (const text of [
    "Closing sheet",
    "Guild of the Long Shed",
    "Till 2 · By the door",
    "Opened Apr 24, 2027, 8:40 AM, by Ada Sley",
    "$100.00 (4 × $20.00, 4 × $5.00)",
    "83, from 2-0001 to 2-0083",
    "-$0.12, in the cash below",
    "Cash 30 $350.00",
    "2-0017 Void of 2-0016 Rung up twice -$12.00",
    "Paid out Tape Ada Sley, Apr 24, 2:10 PM $7.50",
    "Expected $282.50",
    "$20.00 14 $280.00",
    "Counted $282.25",
    "Difference The drawer holds $0.25 less than it should.",
    "Note Counted before: $262.25, by Ada Sley and Żaneta Größe.",
    `page 1 of ${pages.length}`,
  ])
    expect(words).toContain(text);
  // Whoever signs sees the difference on the same page.
  expect(await wordsOf(pages.at(-1)!)).toContain("less than it should");
  const texts = await textsOf(pages.at(-1)!);
  const lines = await linesOf(pages.at(-1)!);
  for (const person of ["Ada Sley", "Żaneta Größe"]) {
    const name = texts.find(({ text }) => text === person)!;
    const above = lines.filter(
      ({ x1, y1, x2 }) =>
        Math.abs(x1 - name.x) < 0.5 &&
        x2 - x1 > 60 &&
        name.baseline - y1 > 2 &&
        name.baseline - y1 < 6,
    );
    expect(above, person).toHaveLength(1);
  }
});

test("a sheet without notes wastes no second page on its signatures", async () => {
  // As long as a page can be that still has room for them.
  const six = Array.from({ length: 6 }, () => counts).map(([row]) => row!);
  const plain = sheet({ notes: [], moves: [], counts: six });
  expect(await pagesOf(await printClosingSheet(plain, options))).toHaveLength(1);
});

test("a quiet session leaves empty tables out; a sum without a count says so", async () => {
  const quiet = sheet({ tenders: [], corrections: [], moves: [], counts: [], notes: [] });
  const words = await wordsOf((await pagesOf(await printClosingSheet(quiet, options)))[0]!);
  expect(words).toContain("Only the sum was typed $282.25");
  for (const heading of ["Voids and returns", "without a sale", "Taken", "A coin"])
    expect(words).not.toContain(heading);
});

test("a long session runs over pages inside the margins; the signatures stay together", async () => {
  const corrections = Array.from({ length: 120 }, (_, index) => ({
    receipt: `2-${String(index + 1).padStart(4, "0")}`,
    what: "Return of 1-0001",
    reason: "Too short for the window, and the colour was not that of the photograph",
    amount: "-$12.00",
  }));
  const pages = await pagesOf(await printClosingSheet(sheet({ corrections }), options));
  expect(pages.length).toBeGreaterThan(2);
  for (const page of pages) {
    const texts = await textsOf(page);
    const foot = texts.find(({ text }) => text.startsWith("page "))!;
    for (const { text, x, width, baseline } of texts) {
      expect(x, text).toBeGreaterThan(15.9);
      expect(x + width, text).toBeLessThan(215.9 - 15.9);
      if (baseline !== foot.baseline) expect(baseline, text).toBeLessThan(foot.baseline - 4);
    }
  }
  const last = await wordsOf(pages.at(-1)!);
  expect(last).toContain("Ada Sley Żaneta Größe");
  expect(last).toContain("Guild of the Long Shed");
});

test("the deposit slip lists notes, coins and cheques, and what stays behind", async () => {
  const pages = await pagesOf(await printDepositSlip(slip(), options));
  const words = await wordsOf(pages[0]!);
  for (const text of [
    "Deposit slip",
    "$0.25 9 $2.25",
    "Cash counted $282.25",
    "2-0031 cheque 1182 $41.40",
    "2-0040 $20.00",
    "Cheques together $61.40",
    "Kept back as a float -$100.00",
    "Deposit $243.65",
    "Made up by Received by",
  ])
    expect(words).toContain(text);
});

test("the same figures give the same bytes", async () => {
  const same = async (print: () => Promise<Uint8Array>) =>
    expect(Buffer.compare(await print(), await print())).toBe(0);
  await same(() => printClosingSheet(sheet(), options));
  await same(() => printDepositSlip(slip(), { ...options, paper: "a4" }));
});
