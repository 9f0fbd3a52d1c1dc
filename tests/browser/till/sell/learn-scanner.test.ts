import { expect, test } from "vitest";
import { learn, testNumber } from "../../../../src/browser/till/sell/learn-scanner.ts";
import { readTag } from "../../../../src/rules/tag-number.ts";

const reading = (text: string, gap: number, end?: string) => [
  ...[...text].map((key, index) => ({ key, at: index * gap })),
  ...(end ? [{ key: end, at: text.length * gap + 20 }] : []),
];
const three = (text: string, gap: number, end?: string) =>
  [0, 1, 2].map(() => reading(text, gap, end));

test("gap and key at the end are learned from three readings", () => {
  expect(learn(three(testNumber, 16, "Tab"))).toEqual({
    kind: "learned",
    settings: { gap: 32, suffix: "Tab" },
    slowest: 16,
  });
  expect(learn(three(testNumber, 2))).toMatchObject({ settings: { gap: 25, suffix: "none" } });
  expect(learn(three(testNumber, 90, "Enter"))).toMatchObject({ settings: { gap: 120 } });
});

test("another keyboard, typing, and another code are told in words", () => {
  const wordsOf = (readings: Parameters<typeof learn>[0]) => {
    const lesson = learn(readings);
    return lesson.kind === "wrong" ? lesson.words : "";
  };
  expect(wordsOf(three("à&é\"'(-è_ç", 8, "Enter"))).toContain("another keyboard");
  expect(wordsOf(three(testNumber, 150, "Enter"))).toContain("use the scanner");
  expect(wordsOf(three("10432176", 8, "Enter"))).toContain("instead of 0123456789");
  expect(
    wordsOf([...three(testNumber, 8, "Enter").slice(1), reading(testNumber, 8, "Tab")]),
  ).toContain("different ways");
});

test("the test code can never be a tag", () => {
  expect(readTag(testNumber, [8, 10]).ok).toBe(false);
});
