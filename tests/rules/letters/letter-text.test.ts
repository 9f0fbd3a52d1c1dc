import { describe, expect, test } from "vitest";
import { type LetterKind, letterKinds } from "../../../src/rules/letters/kinds.ts";
import {
  letterLanguage,
  letterLanguages,
  letterLocale,
} from "../../../src/rules/letters/language.ts";
import {
  type LetterFacts,
  letterText,
  stopPageWords,
  wordsOf,
} from "../../../src/rules/letters/letter-text.ts";

/** Every sentence of a language by where it stands, with the gaps in it. */
function gapsOf(value: unknown, path = ""): [string, string][] {
  if (typeof value === "string") {
    expect(value.trim(), path).not.toBe("");
    return [[path, [...value.matchAll(/\{\w+\}/g)].map(String).sort().join(" ")]];
  }
  return Object.entries(value as object).flatMap(([name, one]) => gapsOf(one, `${path}.${name}`));
}

test.each(letterLanguages)(
  "%s says everything that English says, with the same gaps",
  (language) => {
    expect(gapsOf(wordsOf[language])).toEqual(gapsOf(wordsOf.en));
    const own = Object.values(wordsOf[language].kinds);
    expect(own.some((name) => Object.values(wordsOf.en.kinds).includes(name))).toBe(
      language === "en",
    );
  },
);

const facts: Record<LetterKind, LetterFacts> = {
  "entry-deadline": {
    kind: "entry-deadline",
    deadline: new Date("2026-11-21T05:59:00Z"),
    pieces: 3,
  },
  "check-in-time": {
    kind: "check-in-time",
    startsAt: new Date("2026-11-26T15:00:00Z"),
    endsAt: new Date("2026-11-26T15:30:00Z"),
    place: "Mill hall",
  },
  "first-sold": { kind: "first-sold", piece: "Blue {scarf}", tag: "104-012-57" },
  "statement-ready": { kind: "statement-ready", number: 17 },
};

const setting = {
  language: "en" as const,
  guild: { name: "Alder Creek Weavers", locale: "en-US", timeZone: "America/Chicago" },
  memberName: "Weaver 104",
  saleName: "Autumn sale",
  links: { more: "https://s.test/more", stop: "https://s.test/stop", choose: "https://s.test/all" },
};

describe.each(letterLanguages)("in %s", (language) => {
  test.each(letterKinds)("%s is whole: links, reason, and no gap left open", (kind) => {
    const { subject, text } = letterText(facts[kind], { ...setting, language });
    expect(subject).toContain("Autumn sale");
    expect(subject).not.toMatch(/[$€]|\n/);
    expect(`${subject}${text}`.replace("Blue {scarf}", "")).not.toMatch(/[{}]|undefined/);
    for (const link of Object.values(setting.links)) expect(text.split(link)).toHaveLength(2);
    expect(text).toContain("Weaver 104");
    expect(text).toContain(wordsOf[language].why[kind].split("{")[0]);
    expect(stopPageWords(language, kind).ask).toContain(wordsOf[language].kinds[kind]);
  });
});

test("days and times are those of the guild's clock, in the way of the language", () => {
  const english = letterText(facts["entry-deadline"], setting).text;
  expect(english).toMatch(/end on Friday, November 20, 2026 at 11:59\sPM\./);
  expect(english).toContain("You have entered 3 pieces.");
  const british = { ...setting, guild: { ...setting.guild, locale: "en-GB" } };
  expect(letterText(facts["entry-deadline"], british).text).toMatch(
    /Friday,? 20 November 2026 at 23:59/,
  );
  const german = letterText(facts["check-in-time"], { ...setting, language: "de" }).text;
  expect(german).toContain("am Donnerstag, 26. November 2026 zwischen 09:00 und 09:30");
  expect(german).toContain("Mill hall");
});

test("one piece and none are told as such, and a place that is not given leaves no hole", () => {
  const told = (pieces: number) =>
    letterText({ kind: "entry-deadline", deadline: new Date(), pieces }, setting).text;
  expect(told(0)).toContain("You have entered no piece yet.");
  expect(told(1)).toContain("You have entered 1 piece.");
  const { text } = letterText({ ...facts["check-in-time"], place: "" } as LetterFacts, setting);
  expect(text).not.toContain("\n\n\n");
});

test("the language is the member's, else the guild's, else English", () => {
  expect(letterLanguage("de", "fr-CA")).toBe("de");
  expect(letterLanguage(null, "fr-CA")).toBe("fr");
  expect(letterLanguage(null, "nl-NL")).toBe("en");
  expect([letterLocale("fr", "fr-CA"), letterLocale("de", "fr-CA")]).toEqual(["fr-CA", "de"]);
});
