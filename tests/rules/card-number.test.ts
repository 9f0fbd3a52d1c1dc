import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { looksLikeCardNumber, passesLuhn } from "../../src/rules/card-number.ts";

describe("the Luhn check of ISO/IEC 7812-1", () => {
  test("knows the published vector 7992739871 with check digit 3 and no other", () => {
    const passing = [..."0123456789"].filter((digit) => passesLuhn(`7992739871${digit}`));
    expect(passing).toEqual(["3"]);
  });

  // Six-digit payloads, worked out with an independent script.
  test.each(["1010016", "1010024", "0450122", "1234566", "9999996"])("passes %s", (digits) => {
    expect(passesLuhn(digits)).toBe(true);
  });

  test("catches every single wrong digit", () => {
    const digits = fc.string({
      unit: fc.constantFrom(..."0123456789"),
      minLength: 12,
      maxLength: 18,
    });
    fc.assert(
      fc.property(digits, fc.nat(11), fc.integer({ min: 1, max: 9 }), (payload, position, by) => {
        const check = [..."0123456789"].find((digit) => passesLuhn(payload + digit))!;
        const right = payload + check;
        expect(looksLikeCardNumber(right)).toBe(true);
        const wrongDigit = (Number(right[position]) + by) % 10;
        expect(passesLuhn(right.slice(0, position) + wrongDigit + right.slice(position + 1))).toBe(
          false,
        );
      }),
    );
  });
});

describe("a typed reference", () => {
  // Well-known numbers for testing card forms, from memory.
  test.each([
    "4111111111111111",
    "4111 1111 1111 1111",
    "4111-1111-1111-1111",
    "visa 4111.1111.1111.1111 exp 12/27",
    "12 4111 1111 1111 1111",
    "3782 822463 10005",
    "４１１１１１１１１１１１１１１１",
  ])("“%s” looks like a card number", (text) => {
    expect(looksLikeCardNumber(text)).toBe(true);
  });

  test.each([
    "",
    "cheque 1042",
    "REF 482913",
    "4111111111111112",
    "1234 5678 9015",
    "12345678901234567894",
    "A41111B11111C11111D1",
  ])("“%s” does not", (text) => {
    expect(looksLikeCardNumber(text)).toBe(false);
  });
});
