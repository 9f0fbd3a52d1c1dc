import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { amountText } from "../../src/rules/currency.ts";
import { currencies } from "../../src/rules/currency-table.ts";
import { accountPath, type JournalEntryText, journalText } from "../../src/rules/journal.ts";
import { balancesByHledger, needed, onJournal } from "../support/journal-tools.ts";

const sold = { number: 1, saleName: "Autumn sale", firstDay: "2026-11-20" };
const till = accountPath({ key: "drawer/1", kind: "asset", name: "Drawer 1", till: sold });
const ann = accountPath({ key: "member/a", kind: "liability", name: "Ann", memberNumber: 101 });
const tax = accountPath({ key: "tax/tax", kind: "liability", name: "Sales tax" });
const accounts = [till, ann, tax];

const sale: JournalEntryText = {
  day: "2026-11-21",
  number: 7,
  description: "Receipt at till 1",
  postings: [
    { account: till, amount: 9_614 },
    { account: ann, amount: -8_985 },
    { account: tax, amount: -629 },
  ],
};

const strict = (journal: string) => [
  onJournal(journal, "hledger", ["check", "-s", "ordereddates"]),
  onJournal(journal, "ledger", ["--strict", "--pedantic", "bal", "-n"]),
];

test("the written form: head, accounts, entries", () => {
  expect(journalText(accounts, [sale], "USD")).toBe(`commodity USD
    format USD 1000.00
account assets:drawers:2026-11-20 Autumn sale:till 1
account liabilities:members:101
account liabilities:tax:tax

2026-11-21 * Receipt at till 1 (entry 7)
    assets:drawers:2026-11-20 Autumn sale:till 1  USD 96.14
    liabilities:members:101  USD -89.85
    liabilities:tax:tax  USD -6.29
`);
});

test("an account without a written name is a fault, not a guess", () => {
  for (const [key, kind] of [
    ["member/a", "liability"],
    ["drawer/1", "asset"],
    ["petty", "sock"],
  ] as const)
    expect(() => accountPath({ key, kind, name: "Some" })).toThrow(RangeError);
});

// hledger and ledger, from Debian: readers of the form that share nothing with the writer.
describe.runIf(needed("hledger") && needed("ledger"))("independent programs", () => {
  test.each(["USD", "JPY", "KWD", "CLF"])("accept it in %s and get the same sums", (currency) => {
    const journal = journalText(accounts, [sale, { ...sale, number: 8 }], currency);
    expect(strict(journal).map(({ status, stderr }) => [status, stderr])).toEqual([
      [0, ""],
      [0, ""],
    ]);
    const sums = balancesByHledger(journal);
    expect(sums[ann]).toBe(`${currency} ${amountText(-17_970, currency)}`);
  });

  test("accept every currency that a guild can choose", () => {
    const journal = currencies.map(({ code }) => journalText(accounts, [sale], code)).join("\n");
    expect(strict(journal).map(({ status, stderr }) => [status, stderr])).toEqual([
      [0, ""],
      [0, ""],
    ]);
    const owed = new Set(balancesByHledger(journal)[ann]?.split(", "));
    expect(owed).toEqual(
      new Set(currencies.map(({ code }) => `${code} ${amountText(-8_985, code)}`)),
    );
  });

  test("refuse one coin too much, and an account that was not named", () => {
    const [first, ...rest] = sale.postings;
    const wrong = { ...sale, postings: [{ ...first!, amount: first!.amount + 1 }, ...rest] };
    for (const { status } of strict(journalText(accounts, [wrong], "USD")))
      expect(status).not.toBe(0);
    for (const { status } of strict(journalText([till, tax], [sale], "USD")))
      expect(status).not.toBe(0);
  });

  test("read a sale's name in an account as one name", () => {
    const names = ["Wool: and; silk", "(late)  sale", "[a] = 5 @ 3", "Fête d’été\t²", "; * !", "1"];
    for (const [index, saleName] of names.entries()) {
      const drawer = accountPath({
        ...{ key: `drawer/${index}`, kind: "asset", name: "Drawer" },
        till: { ...sold, saleName },
      });
      const [first, ...rest] = sale.postings;
      const journal = journalText(
        [drawer, ann, tax],
        [{ ...sale, postings: [{ ...first!, account: drawer }, ...rest] }],
        "USD",
      );
      expect(strict(journal).map(({ status, stderr }) => [status, stderr])).toEqual([
        [0, ""],
        [0, ""],
      ]);
      expect(balancesByHledger(journal)[drawer]).toBe("USD 96.14");
    }
  });

  test("read any words of ours as words", () => {
    const nasty = [
      "; a comment | and a note",
      "(code) [2026-01-01] * ! = 5",
      "two\nlines\r\n    assets:bank  USD 5.00",
      "",
      "Łódź ½  spaces\tand tabs\u2028end",
      ")=} % # ~ ' \" \\",
    ];
    const words = fc.sample(fc.string({ unit: "grapheme", maxLength: 40 }), {
      numRuns: 60,
      seed: 7,
    });
    const entries = [...nasty, ...words].map((description, index) => ({
      ...sale,
      number: index + 1,
      description,
    }));
    const journal = journalText(accounts, entries, "USD");
    expect(strict(journal).map(({ status, stderr }) => [status, stderr])).toEqual([
      [0, ""],
      [0, ""],
    ]);
    expect(balancesByHledger(journal)[tax]).toBe(`USD ${amountText(-629 * entries.length, "USD")}`);
  });
});
