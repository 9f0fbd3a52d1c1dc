import { describe, expect, test } from "vitest";
import { checkPassphrase } from "../../src/rules/passphrase.ts";

const known = ["Hazel Rook", "hazel.rook@example.org", "Alder Creek Weavers"];
const fits = (phrase: string): boolean => checkPassphrase(phrase, known).length === 0;

// NIST SP 800-63B-4 (draft) section 3.1.1: at least 15 characters alone, at least 64 allowed, no
// composition rules, a list of what is not allowed with the reason told.
describe("length", () => {
  test("15 characters pass and 14 do not", () => {
    expect(fits("warp weft shaft")).toBe(true);
    expect(fits("warp weft shaf")).toBe(false);
  });
  test("64 and 128 characters pass", () => {
    expect(fits("four warm winters by the loom ".repeat(5).slice(0, 64))).toBe(true);
    expect(fits("four warm winters by the loom ".repeat(5).slice(0, 128))).toBe(true);
  });
  test("a picture sign counts as one character", () => {
    expect(fits("🧶🧵🪡🧣🧤🧥👗 yarn loom")).toBe(true);
    expect(fits("🧶🧵🪡🧣🧤🧥👗🧺🪢🐑🦙🐐🐇🐫")).toBe(false);
  });
  test("what could keep the server busy is refused", () => {
    expect(fits("abcdefg hij ".repeat(50))).toBe(false);
  });
});

describe("what a stranger tries first", () => {
  test.each([
    ["aaaaaaaaaaaaaaaaaaaa", "one letter"],
    ["abababababababababab", "two letters"],
    ["abcdefghijklmnopqrst", "a run of letters"],
    ["987654321098765432", "a run of digits"],
    ["Alder Creek Weavers", "the guild's name"],
    ["hazel.rook@example.org", "the own e-mail"],
    ["Hazel Rook Alder Creek 1", "own and guild's name with a digit"],
  ])("%s is refused: %s", (phrase) => {
    expect(fits(phrase)).toBe(false);
  });
  test("the reason is told", () => {
    expect(checkPassphrase("Alder Creek Weavers", known)[0]?.message).toMatch(/guild's name/);
  });
});

test("no digits, signs or capitals are asked for", () => {
  expect(fits("plain woven words only")).toBe(true);
});
