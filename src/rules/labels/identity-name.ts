import { plainLetters } from "./title-words.ts";

/** Words that say what somebody is in a list, not who they are. */
const listWords: readonly string[] =
  "member maker weaver seller vendor artist artisan guild consignor stall booth tag number num no nr id membre guilde numero miembro socio mitglied gilde nummer".split(
    " ",
  );

/**
 * Whether a name is only a place in somebody's list: "Member 142", "M-142", "142". A trade name
 * that nobody does business under is no identity (16 CFR 303.19 and 300.13).
 */
export function isNumberOnly(name: string): boolean {
  const parts = plainLetters(name).match(/\p{L}+|\p{N}+/gu) ?? [];
  const numbered = parts.some((part) => /\p{N}/u.test(part));
  return parts.every(
    (part) =>
      /\p{N}/u.test(part) || listWords.includes(part) || (numbered && [...part].length === 1),
  );
}
