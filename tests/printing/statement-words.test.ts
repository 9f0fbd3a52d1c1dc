import { expect, test } from "vitest";
import { printFrozen } from "../../src/printing/statement-words.ts";
import type { FrozenStatement } from "../../src/rules/statement.ts";
import { pagesOf, textsOf, wordsOf } from "../support/pdf.ts";
import { earlier, full, ordinary } from "./frozen.ts";

const onPaper = (statement: FrozenStatement, paper: "letter" | "a4"): FrozenStatement => ({
  ...statement,
  heading: { ...statement.heading, paper },
});

const read = async (statement: FrozenStatement): Promise<string[]> =>
  Promise.all((await pagesOf(await printFrozen([statement]))).map((page) => wordsOf(page)));

/** What the service printed for this very statement before there were policies, read back. */
const asBefore = [
  ...["Guild of the Long Shed", "1 Warp Lane", "Statement", "No. 17", "Issued on May 3, 2027"],
  ...["Zaneta Grosse", "Member 104", "Spring sale", "Apr 23 – 25, 2027"],
  ...["Sold for", "$68.00", "Guild share", "$13.60", "Yours", "$54.40"],
  ...["No payout is recorded yet.", "What sold"],
  ...["Sold on", "Tag", "Piece", "Quantity", "Amount", "Rate", "Guild share", "Yours"],
  ...["Apr 24, 2027", "104-001-13", "Twill scarf", "1", "$68.00", "20 %", "$13.60", "$54.40"],
  ...["Apr 24, 2027", "104-002-26", "Shawl (given to the guild, $68.00)", "1"],
  ...["Together", "$68.00", "$13.60", "$54.40"],
  ...["What did not sell", "Tag", "Piece", "Quantity", "Price"],
  ...["104-003-39", "Runner", "2", "$95.00"],
  ...["What the figures mean", "The guild share is 20 % of each line."],
  ...["Statement No. 17 · Spring sale", "page 1 of 1"],
];

test("a statement from before there were policies prints as it did then", async () => {
  const pages = await pagesOf(await printFrozen([earlier]));
  expect(pages).toHaveLength(1);
  expect((await textsOf(pages[0]!)).map(({ text }) => text)).toEqual(asBefore);
});

test("a reprint is the same to the byte, and only the payment's line knows of a payout", async () => {
  const [once, again] = [await printFrozen([full]), await printFrozen([full])];
  expect(Buffer.from(once).equals(Buffer.from(again))).toBe(true);
  const open = ordinary(3);
  const paid = {
    paidOn: "2027-05-04",
    method: "cheque",
    reference: "1042",
    amount: 16_320,
  } as const;
  const texts = async (statement: FrozenStatement) =>
    (await textsOf((await pagesOf(await printFrozen([statement])))[0]!)).map(({ text }) => text);
  const [before, after] = [await texts(open), await texts({ ...open, payout: paid })];
  const changed = after.filter((text, index) => text !== before[index]);
  expect(changed).toEqual(["Paid on May 4, 2027 by cheque, 1042: $163.20"]);
});

test.each(["letter", "a4"] as const)("25 lines fit on one page of %s", async (paper) => {
  const pages = await read(onPaper(ordinary(25), paper));
  expect(pages).toHaveLength(1);
  for (const text of [
    "To be paid $1,360.00",
    "To be paid by cheque. No payout is recorded yet.",
    "Your percentage is 20 %: 2 to 6 hours of work.",
    "Your statements of 2027 so far, this one included: sold for $1,800.00, yours $1,440.00.",
    "Please collect what you have not taken home yet.",
    "page 1 of 1",
  ])
    expect(pages[0]).toContain(text);
  expect(pages[0]).not.toMatch(/How it adds up|Card fee|Everything else/);
});

test.each(["letter", "a4"] as const)(
  "every kind of item stands on %s and adds up",
  async (paper) => {
    const [page, ...more] = await read(onPaper(full, paper));
    expect(more).toEqual([]);
    for (const text of [
      "Sold for $68.00 Guild share $20.65 Everything else -$40.87 Held $6.48",
      "so it is held and carried to the next statement",
      "20 % (1) $13.60 $1.97 $52.43",
      "30 % (2) $20.40 $0.00 $47.60",
      "(1) 20 %: 2 to 6 hours of work. (2) 30 %: the rate for yarn.",
      "Together $68.00 $20.40 $1.97 $45.63",
      "Sold for $68.00 Guild share -$20.40 Part of the fee for cards -$1.97 Entry fee -$5.00",
      "Fee for late entry, 3 × $2.00 -$6.00 Missed shift -$20.00",
      "Missing and made good: 104-003-39 Runner $76.00",
      "Adjustment: tag was priced too low at the desk $1.50",
      "From the statement before -$85.40 Held $6.48",
    ])
      expect(page).toContain(text);
  },
);

test.each(["letter", "a4"] as const)("300 lines break well over pages of %s", async (paper) => {
  const many = { ...full, lines: [...ordinary(300).lines, ...full.lines] };
  const pages = await read(onPaper(many, paper));
  expect(pages.length).toBeGreaterThan(5);
  for (const [index, page] of pages.entries()) {
    expect(page).toContain(`page ${index + 1} of ${pages.length}`);
    if (page.includes("Twill scarf")) expect(page).toContain("Sold on Tag Piece");
    if (page.includes("Together")) expect(page).toMatch(/Apr 24.*Apr 24.*Together/);
  }
  const sum = pages.filter((page) => page.includes("How it adds up"));
  expect(sum).toHaveLength(1);
  expect(sum[0]).toMatch(/How it adds up.*Sold for.*Held/);
});

test("what is owed, held and nothing is told apart", async () => {
  const told = async (net: number) => {
    const [page] = await read({ ...ordinary(1), net, due: 0, payMethod: null });
    return page;
  };
  expect(await told(-500)).toMatch(/Owed to the guild \$5\.00.*taken off the next statement/);
  expect(await told(0)).toContain("Nothing is to be paid.");
  expect(await told(300)).toContain("Held $3.00");
});
