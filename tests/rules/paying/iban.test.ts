import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { isBic, readIban } from "../../../src/rules/paying/iban.ts";

describe("account numbers", () => {
  // Examples of the IBAN register of ISO 13616, as its pages print them.
  test.each([
    "GB82 WEST 1234 5698 7654 32",
    "DE89 3704 0044 0532 0130 00",
    "FR14 2004 1010 0505 0001 3M02 606",
    "ES91 2100 0418 4502 0005 1332",
    "AT61 1904 3002 3457 3201",
    "BE68 5390 0754 7034",
    "CH93 0076 2011 6238 5295 7",
    "IT60 X054 2811 1010 0000 0123 456",
    "NL91 ABNA 0417 1643 00",
    "NO93 8601 1117 947",
    "MT84 MALT 0110 0001 2345 MTLC AST0 01S",
    "SE45 5000 0000 0583 9825 7466",
    "IE29 AIBK 9311 5212 3456 78",
    "PL61 1090 1014 0000 0712 1981 2874",
    "PT50 0002 0123 1234 5678 9015 4",
    "DK50 0040 0440 1162 43",
    "FI21 1234 5600 0007 85",
    "LU28 0019 4006 4475 0000",
    "GR16 0110 1250 0000 0001 2300 695",
    "CZ65 0800 0000 1920 0014 5399",
    "HU42 1177 3016 1111 1018 0000 0000",
  ])("%s is one", (text) => {
    expect(readIban(text)).toEqual({ iban: text.replaceAll(" ", "") });
    expect(readIban(text.toLowerCase())).toEqual({ iban: text.replaceAll(" ", "") });
  });

  test.each([
    ["", "shape"],
    ["12345678", "shape"],
    ["GB82 WEST 1234 5698 7654 3_", "shape"],
    ["US82 WEST 1234 5698 7654 32", "country"],
    ["GB82 WEST 1234 5698 7654 3", "length"],
    ["GB82 WEST 1234 5698 7654 321", "length"],
    ["GB83 WEST 1234 5698 7654 32", "digits"],
    ["GB82 WEST 1234 5698 7645 32", "digits"],
  ])("%s is none because of its %s", (text, fault) => {
    expect(readIban(text)).toEqual({ fault });
  });

  test("one digit wrong, or two neighbours changed over, never passes", () => {
    const iban = "DE89370400440532013000";
    const at = fc.integer({ min: 4, max: iban.length - 2 });
    fc.assert(
      fc.property(at, fc.nat(9), (place, digit) => {
        const [here, next] = [iban.charAt(place), iban.charAt(place + 1)];
        const slip = `${iban.slice(0, place)}${digit}${iban.slice(place + 1)}`;
        const turned = `${iban.slice(0, place)}${next}${here}${iban.slice(place + 2)}`;
        if (String(digit) !== here) expect(readIban(slip)).toEqual({ fault: "digits" });
        if (here !== next) expect(readIban(turned)).toEqual({ fault: "digits" });
      }),
    );
  });
});

test.each([
  ["DEUTDEFF", true],
  ["DEUTDEFF500", true],
  ["NEDSZAJJXXX", true],
  ["DEUTDEF", false],
  ["DEUTDEFF50", false],
  ["deutdeff", false],
  ["DEUT12FF", false],
  ["", false],
])("%s as the code of a bank: %s", (text, isOne) => {
  expect(isBic(text)).toBe(isOne);
});
