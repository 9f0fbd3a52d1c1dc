import { z } from "zod";
import { looksLikeCardNumber } from "../rules/card-number.ts";

/** PostgreSQL keeps no NUL, and other control characters have no place in one line of words. */
const control = /\p{Cc}/u;

/** One line of words: trimmed, without control characters, at most so many characters. */
export const lineOfText = (most: number) =>
  z
    .string("Type words here")
    .trim()
    .max(most, `Use at most ${most} characters`)
    .refine((text) => !control.test(text), "Leave out line breaks and control characters");

/** Another name of the same, for shapes that read better with the short word. */
export const line = lineOfText;

/** A line beside a payment: what may be a card number is refused, since none may ever be stored. */
export const paymentLine = (most: number) =>
  lineOfText(most).refine(
    (text) => !looksLikeCardNumber(text),
    "This looks like a card number, which must not be kept. Type the terminal's own reference",
  );
