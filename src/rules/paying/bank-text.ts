/** Letters that do not come apart into a plain letter and a mark. */
const spelt: Record<string, string> = {
  ß: "ss",
  æ: "ae",
  Æ: "AE",
  œ: "oe",
  Œ: "OE",
  ø: "o",
  Ø: "O",
  ł: "l",
  Ł: "L",
  đ: "d",
  Đ: "D",
  ð: "d",
  Ð: "D",
  þ: "th",
  Þ: "Th",
  ı: "i",
  "&": "+",
};

/**
 * A text in the characters that every bank takes (European Payments Council, EPC217-08): letters
 * without marks, digits, space and / - ? : ( ) . , ' +. Marks fall off, quotes and dashes become
 * plain, everything else becomes a space. Cut to `longest` characters; no slash at either end
 * and no two in a row, because banks read those as their own signs. May come out empty.
 */
export function bankText(text: string, longest: number): string {
  const plain = text
    .replace(/[\u2018\u2019`\u00b4]/g, "'")
    .replace(/[\u2010-\u2015]/g, "-")
    .replace(/./gu, (letter) => spelt[letter] ?? letter)
    .normalize("NFKD")
    .replace(/\p{M}/gu, "")
    .replace(/[^A-Za-z0-9/\-?:().,'+ ]/gu, " ")
    .replace(/\/{2,}/g, "/");
  return ends(ends(plain.replace(/ +/g, " ")).slice(0, longest));
}

const ends = (text: string): string => text.replace(/^[ /]+|[ /]+$/g, "");

/** Whether a reference can go to a bank as it is: 1 to 35 of those characters, slashes as above. */
export const isBankReference = (text: string): boolean =>
  text !== "" && bankText(text, 35) === text;
