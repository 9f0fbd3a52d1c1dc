import fc from "fast-check";
import { describe, expect, test } from "vitest";
import type { Result } from "../../src/rules/problem.ts";
import {
  checkDigits,
  firstMemberNumber,
  itemNumberOf,
  lastMemberNumber,
  makeTag,
  memberNumberOf,
  readTag,
  showTag,
  type TagLength,
} from "../../src/rules/tag-number.ts";

const accepted = <T>(result: Result<T>): T => {
  if (!result.ok) throw new Error(result.problem.detail);
  return result.value;
};

const codeOf = (result: Result<unknown>) => (result.ok ? "accepted" : result.problem.code);

const tagParts = fc.constantFrom<TagLength>(8, 10).chain((length) =>
  fc.record({
    length: fc.constant(length),
    member: fc.integer({ min: firstMemberNumber(length), max: lastMemberNumber(length) }),
    item: fc.integer({ min: 1, max: lastMemberNumber(length) }),
  }),
);

describe("check digits", () => {
  // ISO/IEC 7064 MOD 97-10. The first two vectors are from memory; the IBAN and LEI ones (letters
  // as 10 to 35) too, but for the first LEI, which docs.rs gives for its iso7064 crate.
  const asDigits = (text: string) =>
    [...text].map((character) => Number.parseInt(character, 36)).join("");

  test.each([
    ["794", "44"],
    ["99991234567890121414", "90"],
    [asDigits("WEST12345698765432GB"), "82"],
    [asDigits("370400440532013000DE"), "89"],
    [asDigits("20041010050500013M02606FR"), "14"],
    [asDigits("969500KSV493XWY0PS"), "33"],
    [asDigits("5493001KJTIIGC8Y1R"), "12"],
  ])("of %s are %s", (payload, check) => {
    expect(checkDigits(payload)).toBe(check);
  });

  // Worked out by brute force with an independent script.
  test.each([
    ["101001", "26"],
    ["101002", "23"],
    ["110001", "89"],
    ["045012", "86"],
    ["054012", "52"],
    ["012045", "47"],
    ["123456", "76"],
    ["999999", "20"],
    ["000000", "98"],
    ["000032", "02"],
  ])("of the payload %s are %s", (payload, check) => {
    expect(checkDigits(payload)).toBe(check);
  });

  test("refuses anything but digits", () => {
    expect(() => checkDigits("12a")).toThrow(RangeError);
    expect(() => checkDigits("")).toThrow(RangeError);
  });

  test("run from 02 to 98", () => {
    const all = Array.from({ length: 1000 }, (_, number) => checkDigits(String(number)));
    expect([...new Set(all)].toSorted()).toEqual(
      Array.from({ length: 97 }, (_, index) => String(index + 2).padStart(2, "0")),
    );
  });
});

describe("making and showing", () => {
  test("eight and ten digits", () => {
    expect(accepted(makeTag(123, 456, 8))).toBe("12345676");
    expect(accepted(makeTag(101, 1, 8))).toBe("10100126");
    expect(showTag("12345676")).toBe("123-456-76");
    const long = accepted(makeTag(1000, 7, 10));
    expect(long).toMatch(/^10000007\d\d$/);
    expect(showTag(long)).toBe(`1000-0007-${long.slice(-2)}`);
  });

  test("refuses numbers that do not fit, in words", () => {
    expect(codeOf(makeTag(99, 1, 8))).toBe("limit-reached");
    expect(codeOf(makeTag(1000, 1, 8))).toBe("limit-reached");
    expect(codeOf(makeTag(999, 1, 10))).toBe("limit-reached");
    expect(codeOf(makeTag(100, 0, 8))).toBe("limit-reached");
    expect(makeTag(100, 1000, 8)).toMatchObject({
      problem: { detail: expect.stringContaining("from 1 to 999") },
    });
    expect(() => makeTag(100.5, 1, 8)).toThrow(RangeError);
    expect(() => showTag("1234567")).toThrow(RangeError);
  });
});

describe("reading", () => {
  test.each(["12345676", "123-456-76", " 123 456 76\n", "123.456.76", "\ufeff123–456−76\u200b"])(
    "“%s” is one tag",
    (text) => {
      expect(readTag(text, [8])).toEqual({ ok: true, value: "12345676" });
    },
  );

  test.each([
    ["", "invalid-input", "Scan a tag"],
    ["1234567", "invalid-input", "has 7 digits; a tag has 8"],
    ["1", "invalid-input", "has 1 digit; a tag has 8"],
    ["12345O76", "invalid-input", "this has “O”"],
    ["12345677", "wrong-check-digits", "read the tag again"],
    ["00003202", "unknown-tag", "000-032-02"],
    [`100000${checkDigits("100000")}`, "unknown-tag", "100-000-"],
  ])("“%s” is refused as %s: %s", (text, code, message) => {
    const result = readTag(text, [8], "scan");
    expect(codeOf(result)).toBe(code);
    expect(result).toMatchObject({
      problem: { errors: [{ field: "scan", message: expect.stringContaining(message) }] },
    });
  });

  // Each of these leaves a remainder of 1 modulo 97, as the right digits do.
  test.each(["00003299", "00000001", "00006500"])(
    "the alias %s has wrong check digits",
    (alias) => {
      expect(BigInt(alias) % 97n).toBe(1n);
      expect(codeOf(readTag(alias, [8]))).toBe("wrong-check-digits");
    },
  );

  test("takes only the lengths this guild uses", () => {
    const long = accepted(makeTag(1234, 5678, 10));
    expect(codeOf(readTag(long, [8]))).toBe("invalid-input");
    expect(accepted(readTag(long, [8, 10]))).toBe(long);
    expect(accepted(readTag("12345676", [8, 10]))).toBe("12345676");
  });

  test("gives back what was made", () => {
    fc.assert(
      fc.property(tagParts, ({ member, item, length }) => {
        const tag = accepted(makeTag(member, item, length));
        expect(accepted(readTag(showTag(tag), [8, 10]))).toBe(tag);
        expect([memberNumberOf(tag), itemNumberOf(tag)]).toEqual([member, item]);
      }),
    );
  });

  test("catches every single wrong digit and every swap of neighbours", () => {
    fc.assert(
      fc.property(tagParts, ({ member, item, length }) => {
        const tag = accepted(makeTag(member, item, length));
        for (let position = 0; position < tag.length; position += 1) {
          for (const digit of "0123456789") {
            if (digit === tag[position]) continue;
            const wrong = tag.slice(0, position) + digit + tag.slice(position + 1);
            expect(codeOf(readTag(wrong, [8, 10]))).toBe("wrong-check-digits");
          }
          const [first, second] = [tag[position], tag[position + 1]];
          if (second === undefined || first === second) continue;
          const swapped = tag.slice(0, position) + second + first + tag.slice(position + 2);
          expect(codeOf(readTag(swapped, [8, 10]))).toBe("wrong-check-digits");
        }
      }),
    );
  });

  test("catches member and item changed round unless they differ by a multiple of 97", () => {
    fc.assert(
      fc.property(tagParts, ({ member, item, length }) => {
        const tag = accepted(makeTag(member, item, length));
        const part = length / 2 - 1;
        const swapped = tag.slice(part, -2) + tag.slice(0, part) + tag.slice(-2);
        fc.pre(swapped !== tag && !swapped.startsWith("0"));
        // The payloads differ by (member - item) × (10^part - 1), and 999 and 9999 are prime to 97.
        const caught = codeOf(readTag(swapped, [8, 10])) === "wrong-check-digits";
        expect(caught).toBe((member - item) % 97 !== 0);
      }),
    );
  });
});
