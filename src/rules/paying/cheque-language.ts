import type { Language } from "../labels/language.ts";

const languages: Record<string, Language> = { fr: "fr", es: "es", de: "de" };

/**
 * The language in which a guild writes amounts on cheques. The United States and Canada write
 * English ones alike (from memory); a language that we have no words for gets British English.
 */
export function chequeLanguage(locale: string): Language {
  const { language, region } = new Intl.Locale(locale);
  if (language === "en" && (region === "US" || region === "CA" || region === undefined))
    return "en-US";
  return languages[language] ?? "en-GB";
}
