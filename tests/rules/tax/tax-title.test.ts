import { expect, test } from "vitest";
import { taxTitle } from "../../../src/rules/tax/tax-title.ts";

test.each([
  ["Sales tax", 8_250, "Sales tax 8.25 %"],
  ["Sales tax 8.25 %", 8_250, "Sales tax 8.25 %"],
  ["Tax of 15 shops", 5_000, "Tax of 15 shops 5 %"],
])("%s at %i reads %s", (name, rate, title) => {
  expect(taxTitle({ name, rate })).toBe(title);
});
