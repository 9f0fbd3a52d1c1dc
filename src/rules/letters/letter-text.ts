import { fill } from "../labels/language.ts";
import type { LetterKind } from "./kinds.ts";
import { type LetterLanguage, letterLocale } from "./language.ts";
import { english } from "./words/english.ts";
import { french } from "./words/french.ts";
import { german } from "./words/german.ts";
import { spanish } from "./words/spanish.ts";
import type { LetterWords } from "./words.ts";

export const wordsOf: Readonly<Record<LetterLanguage, LetterWords>> = {
  en: english,
  fr: french,
  es: spanish,
  de: german,
};

/** What each kind of letter tells. */
export type LetterFacts =
  | { kind: "entry-deadline"; deadline: Date; pieces: number }
  | { kind: "check-in-time"; startsAt: Date; endsAt: Date; place: string }
  | { kind: "first-sold"; piece: string; tag: string }
  | { kind: "statement-ready"; number: number };

export interface LetterSetting {
  language: LetterLanguage;
  guild: { name: string; locale: string; timeZone: string };
  memberName: string;
  saleName: string;
  /** Where the letter leads, where one tap stops it, and where all letters are chosen. */
  links: { more: string; stop: string; choose: string };
}

/** A letter in words. Its subject says no amount, because a telephone shows it to the whole room. */
export function letterText(
  facts: LetterFacts,
  { language, guild, memberName, saleName, links }: LetterSetting,
): { subject: string; text: string } {
  const words = wordsOf[language];
  const gaps = { guild: guild.name, member: memberName, sale: saleName, link: links.more };
  const { subject, text, values } = told(facts, words, language, guild);
  const filled = (sentence: string) => fill(sentence, { ...gaps, ...values });
  return {
    subject: filled(subject),
    text: [
      ...[filled(words.greeting), ...text.map(filled)].filter((part) => part !== ""),
      guild.name,
      [
        filled(words.why[facts.kind]),
        `${words.stop}\n${links.stop}`,
        `${words.choose}\n${links.choose}`,
      ].join("\n"),
    ]
      .join("\n\n")
      .concat("\n"),
  };
}

interface Told {
  subject: string;
  text: string[];
  values: Record<string, string>;
}

function told(
  facts: LetterFacts,
  words: LetterWords,
  language: LetterLanguage,
  guild: LetterSetting["guild"],
): Told {
  const locale = letterLocale(language, guild.locale);
  const day = (at: Date) => shown(at, locale, guild.timeZone, { dateStyle: "full" });
  const time = (at: Date) => shown(at, locale, guild.timeZone, { timeStyle: "short" });
  switch (facts.kind) {
    case "entry-deadline": {
      const { deadline, pieces } = facts;
      const values = { day: day(deadline), time: time(deadline) };
      return { ...words.deadline, values: { ...values, pieces: piecesText(pieces, words) } };
    }
    case "check-in-time": {
      const { startsAt, endsAt, place } = facts;
      const values = { day: day(startsAt), from: time(startsAt), until: time(endsAt) };
      return { ...words.checkIn, values: { ...values, where: place } };
    }
    case "first-sold":
      return { ...words.firstSold, values: { piece: facts.piece, tag: facts.tag } };
    case "statement-ready":
      return { ...words.statement, values: { number: String(facts.number) } };
  }
}

const shown = (
  at: Date,
  locale: string,
  timeZone: string,
  style: Intl.DateTimeFormatOptions,
): string => new Intl.DateTimeFormat(locale, { ...style, timeZone }).format(at);

function piecesText(count: number, { pieces }: LetterWords): string {
  if (count === 0) return pieces.none;
  return count === 1 ? pieces.one : fill(pieces.many, { count: String(count) });
}

/** What the page behind a letter's link says. */
export function stopPageWords(language: LetterLanguage, kind: LetterKind): LetterWords["page"] {
  const { page, kinds } = wordsOf[language];
  const pairs = Object.entries(page).map(([name, sentence]) => [
    name,
    fill(sentence, { kind: kinds[kind] }),
  ]);
  return Object.fromEntries(pairs) as unknown as LetterWords["page"];
}
