import { describe, expect, test } from "vitest";
import {
  accountEnding,
  accountFaults,
  tidyAccount,
} from "../../../src/rules/paying/bank-account.ts";
import { chequeLanguage } from "../../../src/rules/paying/cheque-language.ts";
import { chequeNumber, transferReference } from "../../../src/rules/paying/run-reference.ts";

/** The international numbers are examples of the register of ISO 13616. */
describe("an account", () => {
  test.each([
    ["", ""],
    ["GB29 NWBK 6016 1331 9268 19", ""],
    ["de89370400440532013000", "DEUTDEFF"],
    ["000123456789", "021000021"],
    ["12-3456-7890123-00", "60-16-13"],
    ["AB12 345", ""],
  ])("%j with the bank %j may stand", (account, bank) => {
    expect(accountFaults({ account, bank })).toEqual([]);
  });

  test.each([
    ["GB29 NWBK 6016 1331 9268 18", "", "account", "slip"],
    ["GB29 NWBK 6016 1331 9268", "", "account", "too long or too short"],
    ["GB29 1", "", "account", "too long or too short"],
    ["QQ29 NWBK 6016 1331 9268 19", "", "account", "No country"],
    ["DE89370400440532013000", "021000021", "bank", "BIC"],
  ])("%j with the bank %j is refused at %s", (account, bank, field, words) => {
    const [fault, ...others] = accountFaults({ account, bank });
    expect(fault).toMatchObject({ field, message: expect.stringContaining(words) });
    expect(others).toEqual([]);
  });

  test("is kept without spaces when it is international, and as typed otherwise", () => {
    expect(tidyAccount("gb29 nwbk 6016 1331 9268 19")).toBe("GB29NWBK60161331926819");
    expect(tidyAccount(" 12 3456 ")).toBe("12 3456");
  });

  test("shows its last four signs and no more", () => {
    expect(accountEnding("GB29NWBK60161331926819")).toBe("ends in 6819");
    expect(accountEnding("12-3456-7")).toBe("ends in 4567");
    expect(accountEnding("")).toBe("");
  });
});

test("cheques run on and keep their zeros, and outgrow them", () => {
  expect([0, 1, 2].map((at) => chequeNumber("0098", at))).toEqual(["0098", "0099", "0100"]);
  expect(chequeNumber("99", 1)).toBe("100");
  expect(chequeNumber("999999999999", 299)).toBe("1000000000298");
});

test("a transfer's reference is short enough for a bank", () => {
  const longest = transferReference(2_147_483_647, 2_147_483_647);
  expect(longest).toMatch(/^[A-Z0-9-]{1,35}$/);
});

test.each([
  ["en-US", "en-US"],
  ["en", "en-US"],
  ["en-CA", "en-US"],
  ["en-AU", "en-GB"],
  ["fr-CA", "fr"],
  ["de-CH", "de"],
  ["es-MX", "es"],
  ["nl-NL", "en-GB"],
])("a guild that writes %s puts amounts into words in %s", (locale, language) => {
  expect(chequeLanguage(locale)).toBe(language);
});
