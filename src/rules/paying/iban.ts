/** How many characters an account number has in each country, by the register that ISO 13616 keeps. */
const lengths = new Map(
  `
AD24 AE23 AL28 AT20 AZ28 BA20 BE16 BG22 BH22 BR29 BY28 CH21 CR22 CY28 CZ24 DE22 DK18 DO28 EE20
EG29 ES24 FI18 FO18 FR27 GB22 GE22 GI23 GL18 GR27 GT28 HR21 HU28 IE22 IL23 IQ23 IS26 IT27 JO30
KW30 KZ20 LB28 LC32 LI21 LT20 LU20 LV21 LY25 MC27 MD24 ME22 MK19 MR27 MT31 MU30 NL18 NO15 PK24
PL28 PS29 PT25 QA29 RO24 RS22 SA24 SC31 SE24 SI19 SK24 SM27 ST25 SV28 TL23 TN24 TR26 UA29 VA22
VG24 XK20`
    .trim()
    .split(/\s+/)
    .map((entry) => [entry.slice(0, 2), Number(entry.slice(2))] as const),
);

export type IbanFault = "shape" | "country" | "length" | "digits";

export const ibanFaultWords: Record<IbanFault, string> = {
  shape: "This is not an account number (IBAN). It starts with two letters and two digits.",
  country: "No country's account numbers (IBAN) start with these two letters.",
  length: "This account number (IBAN) is too long or too short for its country.",
  digits: "There is a slip in this account number (IBAN). Compare it with the original.",
};

/**
 * Reads an international account number (ISO 13616) as a person types it, with spaces or small
 * letters. Gives it without spaces, or what is wrong: its shape, a country that has none, its
 * length for that country, or its check digits (remainder 1 modulo 97, ISO 7064).
 */
export function readIban(text: string): { iban: string } | { fault: IbanFault } {
  const iban = text.replace(/[\s\u00a0-]/g, "").toUpperCase();
  if (!/^[A-Z]{2}\d{2}[A-Z0-9]{1,30}$/.test(iban)) return { fault: "shape" };
  const length = lengths.get(iban.slice(0, 2));
  if (length === undefined) return { fault: "country" };
  if (iban.length !== length) return { fault: "length" };
  return remainder(iban) === 1 ? { iban } : { fault: "digits" };
}

/** The four characters at the front go to the end, letters count from 10 (A) to 35 (Z). */
function remainder(iban: string): number {
  const digits = (iban.slice(4) + iban.slice(0, 4)).replace(/[A-Z]/g, (letter) =>
    String(letter.charCodeAt(0) - 55),
  );
  return Number(BigInt(digits) % 97n);
}

/** Whether a text has the shape of a bank's code (BIC, ISO 9362): 8 or 11 characters. */
export const isBic = (text: string): boolean =>
  /^[A-Z0-9]{4}[A-Z]{2}[A-Z0-9]{2}(?:[A-Z0-9]{3})?$/.test(text);
