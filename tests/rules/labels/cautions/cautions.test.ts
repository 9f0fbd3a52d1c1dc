import { describe, expect, test } from "vitest";
import {
  type CautionDetails,
  cautionsFor,
  questionsFor,
} from "../../../../src/rules/labels/cautions/cautions.ts";
import { type Cloth, clothWeight, isLight } from "../../../../src/rules/labels/cautions/flame.ts";
import { cautionWords } from "../../../../src/rules/labels/cautions/words.ts";
import type { FibreCode } from "../../../../src/rules/labels/fibres.ts";
import { groups } from "../../../../src/rules/labels/groups.ts";

const ask = (kind: string, answers: Record<string, string>, more: Partial<CautionDetails> = {}) =>
  cautionsFor({ kind, answers, languages: ["en-US"], fibres: ["cotton"], ...more });

const codes = (kind: string) => questionsFor(kind).map(({ code }) => code);

describe("what is asked", () => {
  test.each([
    ["towel", []],
    ["rug", []],
    ["scarf", ["surface"]],
    ["vest", ["fur", "surface"]],
    ["baby-blanket", ["child-age", "baby-blanket"]],
    ["jewellery", ["magnet", "feathers", "fur"]],
    ["toy", ["magnet", "filling", "child-age", "small-parts"]],
    ["soap", ["candle-or-soap"]],
  ])("of a %s: %j", (kind, asked) => {
    expect(codes(kind)).toEqual(asked);
  });

  test("and not answered has the desk look", () => {
    const verdict = ask("baby-blanket", {});
    expect(verdict.outcome).toBe("look");
    expect(verdict.unanswered).toEqual(["child-age", "baby-blanket"]);
    expect(verdict.desk[0]).toContain("Is it meant for a child");
  });

  test("of goods that call for nothing", () => {
    expect(ask("towel", {})).toEqual({
      outcome: "fine",
      lines: [],
      desk: [],
      unanswered: [],
      reasons: [],
    });
  });
});

const none = { feathers: "none", fur: "none" };
const quiet = { magnet: "none", filling: "none", "child-age": "3-to-12", "small-parts": "none" };

describe("what follows", () => {
  test.each<[string, string, Record<string, string>, string, string[]]>([
    // 16 CFR 1262.2 and 1262.3.
    [
      "a magnet without papers is held",
      "jewellery",
      { ...none, magnet: "yes" },
      "hold",
      ["Contains a magnet. Keep away from children and from pacemakers or other implants."],
    ],
    [
      "with papers it is looked at",
      "jewellery",
      { ...none, magnet: "shown" },
      "look",
      ["Contains a magnet. Keep away from children and from pacemakers or other implants."],
    ],
    ["none is fine", "jewellery", { ...none, magnet: "none" }, "fine", []],
    // 16 CFR 1501.4.
    [
      "small parts on a toy for older children",
      "toy",
      { ...quiet, "small-parts": "over-3" },
      "look",
      ["Not for children under 3: small parts."],
    ],
    ["for smaller ones", "toy", { ...quiet, "small-parts": "under-3" }, "refuse", []],
    ["a weighted toy for a baby", "toy", { ...quiet, filling: "weighted-child" }, "refuse", []],
    // 16 U.S.C. 703, from memory.
    [
      "feathers that were found",
      "jewellery",
      { magnet: "none", fur: "none", feathers: "wild" },
      "refuse",
      [],
    ],
    ["fur without a label", "headwear", { feathers: "none", fur: "unlabelled" }, "refuse", []],
    [
      "a loose baby blanket",
      "baby-blanket",
      { "child-age": "under-3", "baby-blanket": "loose" },
      "hold",
      ["Not for unattended sleep."],
    ],
    ["soap nobody allowed", "soap", { "candle-or-soap": "not-allowed" }, "refuse", []],
    [
      "a cosy of unsure thread",
      "cosy",
      { filling: "none", microwave: "not-sure" },
      "look",
      ["Do not microwave."],
    ],
    // 16 CFR 1120.3 and 1615.
    [
      "hood cords on a child's jacket",
      "child-apparel",
      { "child-age": "3-to-12", drawstrings: "other", fur: "none", surface: "plain" },
      "refuse",
      [],
    ],
    [
      "untested sleepwear for a child",
      "sleepwear",
      { "child-age": "3-to-12", sleepwear: "untested", surface: "plain" },
      "refuse",
      [],
    ],
  ])("%s", (_, kind, answers, outcome, lines) => {
    const verdict = ask(kind, answers);
    expect(verdict.unanswered).toEqual([]);
    expect(verdict.outcome).toBe(outcome);
    expect(verdict.lines.map(({ text }) => text)).toEqual(lines);
    expect(verdict.reasons.length > 0).toBe(outcome !== "fine");
  });
});

describe("flame (16 CFR 1610.1(d), from memory)", () => {
  const scarf = (grams: number): Cloth => ({
    milligrams: grams * 1_000,
    length: 1_800,
    width: 300,
  });

  test("a scarf of 1.8 by 0.3 metres: 65 g pass, 40 g are light", () => {
    const { top, bottom } = clothWeight(scarf(65));
    expect(top / bottom).toBe(120n);
    expect(isLight(scarf(65))).toBe(false);
    expect(isLight(scarf(40))).toBe(true);
  });

  test("the line is 2.6 oz per square yard, 88.15 g per square metre", () => {
    const square = (milligrams: number) => isLight({ milligrams, length: 1_000, width: 1_000 });
    expect(square(88_154)).toBe(true);
    expect(square(88_155)).toBe(false);
    // A towel of 115.00 g and 29.716 by 19.437 inches has 308.6 g per square metre.
    const { top, bottom } = clothWeight({ milligrams: 115_000, length: 755, width: 494 });
    expect(top / bottom).toBe(308n);
    expect(() => isLight(scarf(0))).toThrow(RangeError);
  });

  test.each<[string, FibreCode[], number | undefined, string, string, number]>([
    ["plain", ["cotton"], 65, "fine", "", 0],
    ["plain", ["silk"], 40, "look", "test evidence", 1],
    ["open", ["silk"], 40, "hold", "test evidence", 1],
    ["raised", ["cotton"], 200, "hold", "test evidence", 1],
    ["raised", ["silk"], 200, "look", "how it was tested", 0],
    ["raised", ["wool", "nylon"], 20, "fine", "", 0],
    ["plain", ["linen"], undefined, "look", "Weigh the cloth", 0],
    ["plain", [], undefined, "look", "Weigh the cloth", 0],
  ])("%s %j of %s g: %s", (surface, fibres, grams, outcome, desk, printed) => {
    const cloth = grams === undefined ? undefined : scarf(grams);
    const verdict = ask("scarf", { surface }, { fibres, cloth });
    expect(verdict.outcome).toBe(outcome);
    expect(verdict.desk.join()).toContain(desk);
    expect(verdict.lines).toHaveLength(printed);
    if (printed > 0) expect(verdict.lines[0]?.text).toBe("Keep away from flame.");
  });
});

test("every advice ends with the pointer to local rules, and none claims compliance", () => {
  const claim = /compl(y|ies|iant)|certified|approved|\bis (safe|lawful)\b|meets the/i;
  for (const kind of [...groups, "vest"])
    for (const question of questionsFor(kind))
      for (const { value } of question.options) {
        const { desk, lines } = ask(kind, { [question.code]: value });
        for (const words of desk)
          expect(words).toMatch(/\. Check local rules\.$|\? Check local rules\.$/);
        for (const words of [...desk, ...lines.map(({ text }) => text)])
          expect(words).not.toMatch(claim);
      }
});

test("every short text is there in every language", () => {
  const texts = Object.keys(cautionWords["en-US"]);
  for (const words of Object.values(cautionWords)) {
    expect(Object.keys(words)).toEqual(texts);
    for (const text of Object.values(words)) expect(text).toMatch(/\.$/);
  }
});
