import { ok, type Result, refuse } from "./problem.ts";

/** How many digits the tags of a guild have: member, item and two check digits. */
export type TagLength = 8 | 10;

/** A tag begins with the member number, so this keeps it from beginning with a zero. */
export const firstMemberNumber = (length: TagLength): number => (length === 8 ? 100 : 1000);

export const lastMemberNumber = (length: TagLength): number => (length === 8 ? 999 : 9999);

export const lastItemNumber = lastMemberNumber;

/**
 * The two check digits of ISO/IEC 7064 MOD 97-10 over a text of decimal digits, "02" to "98".
 * Compare with these digits instead of testing for a remainder of 1, which lets aliases such as
 * 00003299 for 00003202 pass.
 */
export function checkDigits(payload: string): string {
  if (!/^\d+$/.test(payload)) throw new RangeError(`Not a text of digits: ${payload}`);
  let remainder = 0;
  for (const digit of `${payload}00`) remainder = (remainder * 10 + Number(digit)) % 97;
  return String(98 - remainder).padStart(2, "0");
}

/** Makes a tag from whole numbers; refuses numbers that this length has no room for. */
export function makeTag(
  memberNumber: number,
  itemNumber: number,
  length: TagLength,
): Result<string> {
  if (!Number.isSafeInteger(memberNumber) || !Number.isSafeInteger(itemNumber))
    throw new RangeError(`Not whole numbers: ${memberNumber}, ${itemNumber}`);
  const first = firstMemberNumber(length);
  const last = lastMemberNumber(length);
  if (memberNumber < first || memberNumber > last)
    return refuse(
      "limit-reached",
      `Tags of ${length} digits need member numbers from ${first} to ${last}; ` +
        `this one is ${memberNumber}. Nothing was recorded. Please tell the chair.`,
    );
  if (itemNumber < 1 || itemNumber > lastItemNumber(length))
    return refuse(
      "limit-reached",
      `A member has item numbers from 1 to ${lastItemNumber(length)}, and all are used. ` +
        "Nothing was recorded. Please tell the chair.",
    );
  const payload = `${memberNumber}${String(itemNumber).padStart(length / 2 - 1, "0")}`;
  return ok(payload + checkDigits(payload));
}

/** "123-456-76" or "1234-5678-90": the tag as people read it; throws for another length. */
export function showTag(tag: string): string {
  const part = partLength(tag);
  return `${tag.slice(0, part)}-${tag.slice(part, -2)}-${tag.slice(-2)}`;
}

export const memberNumberOf = (tag: string): number => Number(tag.slice(0, partLength(tag)));

export const itemNumberOf = (tag: string): number => Number(tag.slice(partLength(tag), -2));

/**
 * Reads a scanned or typed tag. Spaces, hyphens, dots and invisible characters are ignored.
 * Accepts exactly the tags that `makeTag` makes in one of the given lengths.
 */
export function readTag(
  text: string,
  lengths: readonly TagLength[],
  field = "tag",
): Result<string> {
  const refused = (code: Parameters<typeof refuse>[0], message: string) =>
    refuse(code, message, [{ field, message }]);
  const tag = text.normalize("NFKC").replace(/[\s\p{C}\p{Pd}−.·]/gu, "");
  if (tag === "") return refused("invalid-input", "Scan a tag or type its number.");
  const stray = /[^0-9]/u.exec(tag)?.[0];
  if (stray !== undefined)
    return refused("invalid-input", `A tag number has digits only; this has “${stray}”.`);
  if (!lengths.some((length) => length === tag.length))
    return refused(
      "invalid-input",
      `This number has ${counted(tag.length)}; a tag has ${lengths.join(" or ")}. ` +
        "Please read the tag again.",
    );
  if (checkDigits(tag.slice(0, -2)) !== tag.slice(-2))
    return refused(
      "wrong-check-digits",
      `The last two digits of ${showTag(tag)} do not fit the others, so one was misread. ` +
        "Please read the tag again.",
    );
  const neverMade = tag.startsWith("0") || itemNumberOf(tag) === 0;
  if (neverMade)
    return refused(
      "unknown-tag",
      `No tag has the number ${showTag(tag)}. Please read the tag again.`,
    );
  return ok(tag);
}

const counted = (digits: number) => (digits === 1 ? "1 digit" : `${digits} digits`);

function partLength(tag: string): number {
  if (!/^(?:\d{8}|\d{10})$/.test(tag)) throw new RangeError(`Not a tag of 8 or 10 digits: ${tag}`);
  return tag.length / 2 - 1;
}
