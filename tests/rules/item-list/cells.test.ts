import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { readKind, readWhole, readYesNo } from "../../../src/rules/item-list/cell-words.ts";
import {
  columnWords,
  isMendHeading,
  listColumns,
  readHeading,
} from "../../../src/rules/item-list/columns.ts";
import { readFibreWords } from "../../../src/rules/item-list/fibre-words.ts";
import { lessPrice, readLess } from "../../../src/rules/item-list/less-price.ts";
import { pastedCells } from "../../../src/rules/item-list/pasted-cells.ts";

describe("headings", () => {
  test("every heading of the starter file means its own column, and no word means two", () => {
    expect(listColumns.map((column) => readHeading(columnWords[column].heading))).toEqual([
      ...listColumns,
    ]);
    const words = listColumns.flatMap((column) => columnWords[column].also);
    expect(new Set(words).size).toBe(words.length);
    expect(words.every((word) => readHeading(word) !== undefined)).toBe(true);
  });

  test.each([
    ["COLOR", "colours"],
    ["Fiber content", "fibres"],
    ["how-many?", "quantity"],
    ["Hours", "minutes"],
    ["Loom", undefined],
    ["", undefined],
  ])("%s means %s", (text, column) => expect(readHeading(text)).toBe(column));

  test("our own column of faults is known again", () => {
    expect([isMendHeading("what to mend"), isMendHeading("Mend")]).toEqual([true, false]);
  });
});

describe("fibres in one cell", () => {
  const said = (text: string) => {
    const read = readFibreWords(text);
    if (read.message !== undefined) return read.message;
    return read.fibres.map(({ fibre, percent }) => `${percent} ${fibre}`).join(", ");
  };

  test.each([
    ["60 cotton 40 linen", "60 cotton, 40 linen"],
    ["cotton 60 %, linen 40 %", "60 cotton, 40 linen"],
    ["60% Cotton / 40% Flax", "60 cotton, 40 linen"],
    ["60/40 cotton/linen", "60 cotton, 40 linen"],
    ["cotton 60,linen 40", "60 cotton, 40 linen"],
    ["cotton 60, 40 linen", "60 cotton, 40 linen"],
    ["70 percent superwash wool and 30 percent silk", "70 superwash-wool, 30 silk"],
    ["50 wool\n50 alpaca", "50 wool, 50 alpaca"],
    ["100 Merino", "100 wool"],
    ["Silk", "100 silk"],
    ["５０ cotton ５０ linen", "50 cotton, 50 linen"],
    ["", ""],
  ])("%j", (text, fibres) => expect(said(text)).toBe(fibres));

  test.each([
    ["cotton linen 40", "“cotton linen”"],
    ["cotton, linen", "Write each fibre with its percent"],
    ["60 40 cotton", "Write each fibre with its percent"],
    ["cotton 60 40 linen wool 3", "Write each fibre with its percent"],
    ["60 cashmink 40 linen", "“cashmink”"],
    ["33.3 cotton 66.7 linen", "Whole percents"],
    ["33,3 cotton", "Whole percents"],
    ["1000 cotton", "Whole percents"],
    ["=60 cotton", "Write each fibre"],
  ])("%j says what to do", (text, words) => expect(said(text)).toContain(words));

  test("never throws, and gives as many fibres as there are percents", () => {
    fc.assert(
      fc.property(fc.string({ unit: "grapheme", maxLength: 60 }), (text) => {
        const read = readFibreWords(text);
        return read.message !== undefined || read.fibres.every(({ percent }) => percent >= 0);
      }),
    );
  });
});

describe("small words", () => {
  test("yes and no as people write them", () => {
    const yes = ["yes", "Y", "x", "TRUE", "1", "✓"].map((text) => readYesNo(text, "donated"));
    const no = ["", "No", "-", "0", "false"].map((text) => readYesNo(text, "donated"));
    expect(yes.every((one) => one.ok && one.value)).toBe(true);
    expect(no.every((one) => one.ok && !one.value)).toBe(true);
    expect(readYesNo("perhaps", "donated")).toMatchObject({
      ok: false,
      problem: { errors: [{ field: "donated" }] },
    });
  });

  test("whole numbers, with one for an empty cell", () => {
    expect(readWhole("", "quantity")).toEqual({ ok: true, value: 1 });
    expect(readWhole(" 12 ", "quantity")).toEqual({ ok: true, value: 12 });
    expect(["1.5", "-1", "two"].map((text) => readWhole(text, "quantity").ok)).toEqual([
      false,
      false,
      false,
    ]);
  });

  const kinds = [
    { code: "scarf", name: "Scarf" },
    { code: "shawl", name: "Shawl or wrap" },
    { code: "mug-rug", name: "Mug rug" },
    { code: "towel-a", name: "Towel or cloth" },
    { code: "towel-b", name: "Napkin or cloth" },
  ];
  test.each([
    ["scarf", "scarf"],
    ["SCARFS", "scarf"],
    ["Wraps", "shawl"],
    ["shawl or wrap", "shawl"],
    ["mug rug", "mug-rug"],
    ["cloth", undefined],
    ["", undefined],
    ["hat", undefined],
  ])("the kind %j is %s", (text, code) => expect(readKind(text, kinds)).toBe(code));
});

describe("cells from a clipboard", () => {
  test.each([
    [
      "a\tb\nc\td\n",
      [
        ["a", "b"],
        ["c", "d"],
      ],
    ],
    ["a\r\nb", [["a"], ["b"]]],
    ['18" wide\t"two\nlines"\t"say ""hi"""', [['18" wide', "two lines", 'say "hi"']]],
    ['"Sun" towel\tx', [['"Sun" towel', "x"]]],
    ['"never closed\tx', [['"never closed', "x"]]],
    ["\t\tc", [["", "", "c"]]],
    ["", [[""]]],
  ])("%j", (text, cells) => expect(pastedCells(text)).toEqual(cells));

  test("cells written as a spreadsheet writes them come back", () => {
    const cell = fc
      .string({ unit: fc.constantFrom("a", "é", '"', "\t", "'", ",", ";", "1"), maxLength: 6 })
      .map((text) => text.trim());
    const rows = fc.array(fc.array(cell, { minLength: 2, maxLength: 4 }), { minLength: 1 });
    fc.assert(
      fc.property(rows, (given) => {
        const written = given
          .map((row) =>
            row
              .map((text) => (/[\t"]/.test(text) ? `"${text.replaceAll('"', '""')}"` : text))
              .join("\t"),
          )
          .join("\r\n");
        expect(pastedCells(`${written}\r\n`)).toEqual(given);
      }),
    );
  });
});

describe("less for all", () => {
  test.each([
    ["", 0],
    ["10", 10_000],
    ["12.5 %", 12_500],
    ["12,5", 12_500],
    ["0", 0],
    ["99.999", 99_999],
  ])("%j is read", (text, less) => expect(readLess(text)).toEqual({ ok: true, value: less }));

  test.each(["100", "-5", "ten", "1.2345"])("%j is refused", (text) =>
    expect(readLess(text)).toMatchObject({ ok: false, problem: { errors: [{ field: "less" }] } }),
  );

  const rules = { priceStep: 50, priceFloor: 500 };
  test.each([
    [4_500, 10_000, 4_050],
    [4_500, 0, 4_500],
    [4_525, 0, 4_525],
    [1_050, 50_000, 550],
    [4_500, 33_333, 3_000],
    [600, 90_000, 500],
  ])("%i less %i thousandths is %i", (price, less, wanted) =>
    expect(lessPrice(price, less, rules)).toBe(wanted),
  );

  test("always on a step, never under the floor, within half a step of the exact price", () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 1, max: 1_000_000 }),
        fc.integer({ min: 1, max: 99_999 }),
        fc.integer({ min: 1, max: 5_000 }),
        fc.integer({ min: 1, max: 5_000 }),
        (price, less, priceStep, priceFloor) => {
          const found = lessPrice(price, less, { priceStep, priceFloor });
          const exact = BigInt(price) * BigInt(100_000 - less);
          const off = BigInt(found) * 100_000n - exact;
          const near = 2n * (off < 0n ? -off : off) <= BigInt(priceStep) * 100_000n;
          expect(found % priceStep).toBe(0);
          expect(found).toBeGreaterThanOrEqual(priceFloor);
          expect(near || found - priceStep < priceFloor).toBe(true);
        },
      ),
    );
  });
});
