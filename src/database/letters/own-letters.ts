import { choicesFrom } from "../../rules/letters/kinds.ts";
import { type LetterLanguage, letterLanguage } from "../../rules/letters/language.ts";
import type { Database } from "../client.ts";

/** What a member has chosen, and the language that letters come in by it. */
export async function ownLetters(db: Database, memberId: string) {
  const { language, letterChoices, email } = await db.member.findUniqueOrThrow({
    where: { id: memberId },
    include: { letterChoices: true },
  });
  const { locale } = await db.guild.findFirstOrThrow();
  return {
    email,
    letters: choicesFrom(letterChoices),
    language: language as LetterLanguage | null,
    guildLanguage: letterLanguage(null, locale),
    writtenIn: letterLanguage(language, locale),
  };
}
