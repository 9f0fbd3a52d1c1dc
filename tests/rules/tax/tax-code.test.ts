import { expect, test } from "vitest";
import { codeOf } from "../../../src/rules/tax/tax-code.ts";

test.each([
  ["State tax 4 %", "state-tax-4"],
  ["  County  ", "county"],
  ["Taxe d’État", "taxe-d-etat"],
  ["A very long name of a tax", "a-very-long-name-of"],
  ["%%%", "tax"],
  ["税", "tax"],
])("%j has the code %s", (name, code) => {
  expect(codeOf(name, [])).toBe(code);
  expect(code).toMatch(/^[a-z0-9-]{1,20}$/);
});

test("a code that is taken gets the next free number, within the same length", () => {
  expect(codeOf("City tax", ["city-tax"])).toBe("city-tax-2");
  expect(codeOf("City tax", ["city-tax", "city-tax-2", ""])).toBe("city-tax-3");
  const long = "a-very-long-name-of";
  expect(codeOf("A very long name of another tax", [long])).toBe("a-very-long-name-o-2");
});
