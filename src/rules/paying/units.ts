import type { Language } from "../labels/language.ts";

/** What a currency's whole unit is called on a cheque. */
export interface Unit {
  one: string;
  many: string;
  feminine: boolean;
}

const masculine = (one: string, many: string): Unit => ({ one, many, feminine: false });
const feminine = (one: string, many: string): Unit => ({ one, many, feminine: true });

const english = {
  dollar: masculine("dollar", "dollars"),
  pound: masculine("pound", "pounds"),
  euro: masculine("euro", "euros"),
  franc: masculine("franc", "francs"),
};

const names: Record<Language, Record<keyof typeof english, Unit>> = {
  "en-US": english,
  "en-GB": english,
  fr: { ...english, pound: feminine("livre", "livres") },
  es: {
    dollar: masculine("dólar", "dólares"),
    pound: feminine("libra", "libras"),
    euro: masculine("euro", "euros"),
    franc: masculine("franco", "francos"),
  },
  de: {
    dollar: masculine("Dollar", "Dollar"),
    pound: masculine("Pfund", "Pfund"),
    euro: masculine("Euro", "Euro"),
    franc: masculine("Franken", "Franken"),
  },
};

const called: Record<string, keyof typeof english> = {
  USD: "dollar",
  CAD: "dollar",
  AUD: "dollar",
  NZD: "dollar",
  GBP: "pound",
  EUR: "euro",
  CHF: "franc",
};

/**
 * The name of a currency's unit in a language. A cheque is drawn on a bank of the guild's own
 * country, so "dollars" is enough; a currency without a name here is called by its ISO 4217 code.
 */
export function unitOf(currency: string, language: Language): Unit {
  const name = called[currency];
  return name === undefined ? masculine(currency, currency) : names[language][name];
}
