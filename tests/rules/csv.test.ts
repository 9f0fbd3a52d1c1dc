import { parse } from "csv-parse/sync";
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { type CsvCell, csvText, unguarded } from "../../src/rules/csv.ts";

const read = (text: string): string[][] => parse(text, { record_delimiter: "\r\n" });

describe("CSV", () => {
  test.each<[CsvCell[], string]>([
    [['Shawl, "Log Cabin"', 2], '"Shawl, ""Log Cabin""",2'],
    [["two\r\nlines"], '"two\r\nlines"'],
    [["=SUM(A1)", "x"], "'=SUM(A1),x"],
    [["+1", "-1", "@a", "=1"], "'+1,'-1,'@a,'=1"],
    [["\tx", "\rx"], "'\tx,\"'\rx\""],
    [["'=1", "'tis"], "''=1,'tis"],
    [["a=b", "3-4"], "a=b,3-4"],
    [[{ figure: "-3.20" }, -3, 0], "-3.20,-3,0"],
    [[null, "x", ""], ",x,"],
    [[""], '""'],
    [[" x "], '" x "'],
    [["Zoë 山田"], "Zoë 山田"],
  ])("%j", (row, line) => {
    expect(csvText([row])).toBe(`${line}\r\n`);
  });

  test("refuses rows of different lengths and figures that are none", () => {
    expect(() => csvText([["a", "b"], ["c"]])).toThrow("1 cells instead of 2");
    expect(() => csvText([[]])).toThrow(RangeError);
    for (const figure of ["1,50", "=1", "+1", "1e3", "", "1.", "NaN"])
      expect(() => csvText([[{ figure }]])).toThrow(RangeError);
    for (const number of [0.5, Number.NaN, 2 ** 53])
      expect(() => csvText([[number]])).toThrow(RangeError);
    expect(csvText([])).toBe("");
  });

  const odd = fc.constantFrom("=", "+", "-", "@", "\t", "\r", "\n", "\0", "'", '"', ",", " ", "ä");
  const text = fc.oneof(
    fc.string({ unit: "binary" }),
    fc.array(odd, { maxLength: 6 }).map((parts) => parts.join("")),
  );

  test("reads back the same in a general reader, and no text starts a formula", () => {
    const rows = fc
      .integer({ min: 1, max: 5 })
      .chain((width) => fc.array(fc.array(text, { minLength: width, maxLength: width })));
    fc.assert(
      fc.property(rows, (cells) => {
        const back = read(csvText(cells));
        expect(back.flat().filter((cell) => /^[=+\-@\t\r]/.test(cell))).toEqual([]);
        expect(back.map((row) => row.map(unguarded))).toEqual(cells);
      }),
      { numRuns: 300 },
    );
  });

  test("keeps every number as it is", () => {
    fc.assert(
      fc.property(fc.maxSafeInteger(), (number) => {
        expect(read(csvText([[number, { figure: `${number}.05` }]]))).toEqual([
          [String(number), `${number}.05`],
        ]);
      }),
    );
  });
});
