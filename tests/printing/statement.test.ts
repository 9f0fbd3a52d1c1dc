import { describe, expect, test } from "vitest";
import {
  printStatement,
  printStatements,
  type StatementData,
} from "../../src/printing/statement.ts";
import { pagesOf, textsOf, wordsOf } from "../support/pdf.ts";

const options = { paper: "letter", createdAt: new Date("2027-05-03T10:00:00Z") } as const;

const descriptions = [
  "Twill scarf in greys",
  "Überwurf für Łukasz, Köper ½ breit, mit langen gedrehten Fransen und breitem Hohlsaum",
];

function statement(sold: number, unsold = 0, memberNumber = "104"): StatementData {
  return {
    guildName: "Guild of the Long Shed",
    guildLines: ["1 Warp Lane"],
    saleName: "Spring sale",
    saleDates: "23 to 25 April 2027",
    statementNumber: `S-${memberNumber}`,
    issuedOn: "3 May 2027",
    memberNumber,
    memberName: "Żaneta Größe",
    figures: [
      { label: "Sold for", amount: "$91,111.00" },
      { label: "Guild share", amount: "$92,222.00" },
      { label: "Yours", amount: "-$93,333.00" },
    ],
    payment: "No payout is recorded yet.",
    lines: Array.from({ length: sold }, (_, index) => ({
      soldOn: "24 Apr 2027",
      tag: `104-${String(index).padStart(3, "0")}-11`,
      description: descriptions[index % 3 === 1 ? 1 : 0]!,
      quantity: "1",
      amount: `$${1000 + index}.00`,
      rate: "25 %",
      guildShare: `$${4000 + index}.00`,
      cardFee: "",
      net: index === 2 ? `-$${7000 + index}.50` : `$${7000 + index}.50`,
    })),
    totals: { gross: "$91,111.00", guildShare: "$92,222.00", cardFee: "", net: "-$93,333.00" },
    ...{ grounds: [], account: [], yearToDate: "", unsoldNote: "", closes: false },
    unsold: Array.from({ length: unsold }, (_, index) => ({
      tag: `104-${500 + index}-22`,
      description: descriptions[0]!,
      quantity: "2",
      price: `$${9500 + index}.00`,
    })),
    notes: ["Sold for is what customers paid.", "Yours is what the guild owes you."],
  };
}

const readPages = async (bytes: Uint8Array): Promise<string[]> =>
  Promise.all((await pagesOf(bytes)).map((page) => wordsOf(page)));

const occurrences = (text: string, part: string): number => text.split(part).length - 1;

describe("an ordinary statement", () => {
  test.each(["letter", "a4"] as const)(
    "fits on one page of %s with everything on it",
    async (paper) => {
      const data = statement(12, 4);
      const pages = await readPages(await printStatement(data, { ...options, paper }));
      expect(pages).toHaveLength(1);
      const [page] = pages;
      for (const text of [
        data.guildName,
        data.guildLines[0]!,
        data.saleName,
        data.saleDates,
        data.statementNumber,
        "Issued on 3 May 2027",
        "Member 104",
        "Żaneta Größe",
        data.payment,
        "Köper ½ breit",
        ...data.lines.flatMap(({ tag, amount, guildShare, net }) => [tag, amount, guildShare, net]),
        ...data.unsold.flatMap(({ tag, price }) => [tag, price]),
        ...data.notes,
        "page 1 of 1",
      ]) {
        expect(page).toContain(text);
      }
      // Once large at the top and once under their columns.
      for (const { amount } of data.figures) expect(occurrences(page!, amount)).toBe(2);
      expect(page).toContain("-$7002.50");
    },
  );

  test("says when nothing sold", async () => {
    const [page] = await readPages(await printStatement(statement(0), options));
    expect(page).toContain("None of your pieces sold at this sale.");
    expect(page).not.toContain("What did not sell");
  });
});

describe("a long statement", () => {
  test("prints 300 lines once each, with a head on every page", async () => {
    const data = statement(300, 60);
    const pages = await readPages(await printStatement(data, options));
    expect(pages.length).toBeGreaterThan(6);
    const all = pages.join(" ");
    for (const line of data.lines) {
      for (const text of [line.tag, line.amount, line.guildShare, line.net]) {
        expect(occurrences(all, text)).toBe(1);
      }
    }
    for (const { tag, price } of data.unsold) {
      expect(occurrences(all, tag)).toBe(1);
      expect(occurrences(all, price)).toBe(1);
    }
    pages.forEach((page, index) => {
      expect(page).toContain(`page ${index + 1} of ${pages.length}`);
      if (page.includes("24 Apr 2027")) expect(occurrences(page, "Sold on")).toBe(1);
      if (index > 0) expect(page).toContain("Member 104, Żaneta Größe");
    });
  });

  test("never lets the totals stand alone, whatever the number of lines", async () => {
    for (let sold = 18; sold <= 45; sold += 1) {
      const pages = await readPages(await printStatement(statement(sold), options));
      const closing = pages.filter((page) => page.includes("Together"));
      expect(closing).toHaveLength(1);
      expect(occurrences(closing[0]!, "24 Apr 2027")).toBeGreaterThanOrEqual(2);
    }
  });

  test("keeps everything inside the margins and apart from the page number", async () => {
    const pages = await pagesOf(await printStatement(statement(80, 30), options));
    for (const page of pages) {
      const texts = await textsOf(page);
      const foot = texts.find(({ text }) => text.startsWith("page "))!;
      for (const { text, x, width, baseline, size } of texts) {
        expect(x, text).toBeGreaterThan(15.9);
        expect(x + width, text).toBeLessThan(215.9 - 15.9);
        expect(size, text).toBeGreaterThanOrEqual(6);
        if (baseline !== foot.baseline) expect(baseline, text).toBeLessThan(foot.baseline - 4);
      }
    }
  });
});

describe("figures", () => {
  test("end at the same right edge in their column", async () => {
    const [page] = await pagesOf(await printStatement(statement(10), options));
    const texts = await textsOf(page!);
    const ends = texts
      .filter(({ text, size }) => /^-?\$70\d\d\.50$/.test(text) && size < 10)
      .map(({ x, width }) => x + width);
    expect(ends).toHaveLength(10);
    expect(Math.max(...ends) - Math.min(...ends)).toBeLessThan(0.1);
  });

  test("do not run into one another when they are long", async () => {
    const data = statement(3);
    const long = "CHF -1’234’567.00";
    for (const line of data.lines)
      Object.assign(line, { amount: long, guildShare: long, net: long });
    const [page] = await pagesOf(await printStatement(data, options));
    const texts = (await textsOf(page!)).filter(({ text }) => text === long);
    expect(texts).toHaveLength(9);
    for (const one of texts) {
      const next = texts.filter(({ baseline, x }) => baseline === one.baseline && x > one.x);
      for (const { x } of next) expect(x).toBeGreaterThan(one.x + one.width + 1);
    }
  });
});

describe("a file for all members", () => {
  test("starts each member on a page of their own and counts their pages", async () => {
    const all = [statement(2, 0, "104"), statement(60, 0, "105"), statement(0, 2, "106")];
    const pages = await readPages(await printStatements(all, options));
    const owners = pages.map((page) => /Statement (S-\d+) ·/.exec(page)![1]);
    expect(owners).toEqual(["S-104", "S-105", "S-105", "S-105", "S-106"]);
    expect(pages.map((page) => /page \d+ of \d+/.exec(page)![0])).toEqual([
      "page 1 of 1",
      "page 1 of 3",
      "page 2 of 3",
      "page 3 of 3",
      "page 1 of 1",
    ]);
  });

  test("has the same bytes for the same input", async () => {
    const once = await printStatements([statement(5), statement(3)], options);
    const again = await printStatements([statement(5), statement(3)], options);
    expect(Buffer.from(once).equals(Buffer.from(again))).toBe(true);
  });

  test("is refused without a statement", async () => {
    await expect(printStatements([], options)).rejects.toThrow(RangeError);
  });
});
