import fc from "fast-check";
import { expect, test } from "vitest";
import { codeAlphabet, codeLength, readCode, showCode } from "../../src/rules/till-code.ts";

test("no letter or digit of a code is taken for another", () => {
  expect(codeAlphabet).toHaveLength(31);
  expect(new Set(codeAlphabet).size).toBe(31);
  expect(codeAlphabet).not.toMatch(/[0O1IL]/);
});

test("a code is read however it was typed", () => {
  const code = fc.string({
    unit: fc.constantFrom(...codeAlphabet),
    minLength: codeLength,
    maxLength: codeLength,
  });
  fc.assert(
    fc.property(code, (one) => {
      expect(readCode(showCode(one))).toBe(one);
      expect(readCode(` ${showCode(one).toLowerCase()} `)).toBe(one);
      expect(readCode([...one].join(" "))).toBe(one);
    }),
  );
});

test.each(["", "ABCD-234", "ABCD-23456", "ABCD-234O", "ABCD-2341", "ÀBCD-2345", "ABCD.2345"])(
  "%j is no code",
  (typed) => {
    expect(readCode(typed)).toBeUndefined();
  },
);
