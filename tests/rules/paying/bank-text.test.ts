import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { bankText, isBankReference } from "../../../src/rules/paying/bank-text.ts";

describe("texts for a bank", () => {
  test.each([
    ["Zoë Müller-Strauß", "Zoe Muller-Strauss"],
    ["François Œuvré", "Francois OEuvre"],
    ["Þóra Ærøskjold & Søn", "Thora AEroskjold + Son"],
    ["Łukasz Żak", "Lukasz Zak"],
    ["O’Neill – ‘Weaver’", "O'Neill - 'Weaver'"],
    ['<Nm>"x"</Nm>', "Nm x /Nm"],
    ["//paid//twice//", "paid/twice"],
    ["line\r\nbreak\ttab", "line break tab"],
    ["  a   b  ", "a b"],
    ["山田", ""],
  ])("%j goes as %j", (text, sent) => {
    expect(bankText(text, 70)).toBe(sent);
  });

  test("a cut leaves no space or slash at the end", () => {
    expect(bankText("abcd efgh", 5)).toBe("abcd");
    expect(bankText("abcd/efgh", 5)).toBe("abcd");
  });

  test("whatever comes in, only allowed characters within the length come out", () => {
    fc.assert(
      fc.property(fc.string({ unit: "binary" }), fc.integer({ min: 1, max: 140 }), (text, most) => {
        const sent = bankText(text, most);
        expect(sent).toMatch(/^[A-Za-z0-9/\-?:().,'+ ]*$/);
        expect(sent.length).toBeLessThanOrEqual(most);
        expect(sent).not.toMatch(/^[ /]|[ /]$|\/\//);
        expect(bankText(sent, most)).toBe(sent);
      }),
    );
  });

  test.each([
    ["P1-0045", true],
    ["x".repeat(35), true],
    ["x".repeat(36), false],
    ["", false],
    ["/P1", false],
    ["P1//2", false],
    ["P<1", false],
  ])("%s as a reference: %s", (text, fits) => {
    expect(isBankReference(text)).toBe(fits);
  });
});
