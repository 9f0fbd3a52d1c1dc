import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { fitText, textWidth } from "../../../src/rules/charts/text-width.ts";
import { measured } from "./svg-reader.ts";

describe("the width of a text", () => {
  const letters = Array.from({ length: 0x17f - 0x20 }, (_, at) => String.fromCodePoint(at + 0x20))
    .filter((letter) => !/\p{C}/u.test(letter))
    .concat("€", "…", "–", "—", "‘", "’", "“", "”");

  test.each(letters)("%s takes no more than we say", (letter) => {
    expect(textWidth(letter, 16)).toBeGreaterThanOrEqual(measured(letter));
  });

  test("is not far too much for ordinary labels", () => {
    for (const text of ["Till 1", "Scarves and shawls", "$12,345.00", "10 am", "Gebührenfrei"])
      expect(textWidth(text, 16)).toBeLessThan(1.5 * measured(text));
  });
});

describe("a text that has to fit", () => {
  test("stays as it is where there is room, and loses whole letters where not", () => {
    expect(fitText("Scarves", 16, 200)).toBe("Scarves");
    expect(fitText("Scarves and shawls", 16, 90)).toBe("Scarve…");
    expect(fitText("Scarves", 16, 20)).toBe("");
    expect(fitText("👩🏽👩🏽👩🏽👩🏽", 16, 60)).not.toMatch(/[\ud800-\udbff](?![\udc00-\udfff])/);
  });

  test("never takes more than its room", () => {
    fc.assert(
      fc.property(fc.string({ unit: "grapheme" }), fc.nat(300), (text, room) => {
        const fitted = fitText(text, 16, room);
        expect(fitted === "" ? 0 : textWidth(fitted, 16)).toBeLessThanOrEqual(room);
      }),
    );
  });
});
