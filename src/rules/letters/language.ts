/** The languages that letters are written in, each by the name it has for itself. */
export const letterLanguages = ["en", "fr", "es", "de"] as const;

export type LetterLanguage = (typeof letterLanguages)[number];

export const languageNames: Readonly<Record<LetterLanguage, string>> = {
  en: "English",
  fr: "Français",
  es: "Español",
  de: "Deutsch",
};

const languagePart = (locale: string): string => locale.split("-")[0]?.toLowerCase() ?? "";

/** The member's language; without one the guild's, and English where we have no words in it. */
export function letterLanguage(chosen: string | null, guildLocale: string): LetterLanguage {
  const wanted = chosen ?? languagePart(guildLocale);
  return letterLanguages.find((one) => one === wanted) ?? "en";
}

/** How days and times are written in a letter: the guild's own way where it is of that language. */
export const letterLocale = (language: LetterLanguage, guildLocale: string): string =>
  languagePart(guildLocale) === language ? guildLocale : language;
