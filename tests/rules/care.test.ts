import { expect, test } from "vitest";
import { careChoices, careText, isCareCode } from "../../src/rules/care.ts";

test("every choice has its own code and words short enough for a tag", () => {
  expect(new Set(careChoices.map(({ code }) => code)).size).toBe(careChoices.length);
  expect(new Set(careChoices.map(({ words }) => words)).size).toBe(careChoices.length);
  for (const { code, words } of careChoices) {
    expect(careText(code)).toBe(words);
    expect(words.length).toBeLessThanOrEqual(50);
  }
});

test("other codes were never offered", () => {
  expect(isCareCode("hand-wash-flat")).toBe(true);
  expect(isCareCode("boil")).toBe(false);
  expect(() => careText("boil")).toThrow("boil");
});
