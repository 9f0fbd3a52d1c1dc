import { z } from "zod";

/** PostgreSQL keeps no NUL, and other control characters have no place in one line of words. */
const control = /\p{Cc}/u;

/** One line of words: trimmed, without control characters, at most so many characters. */
export const lineOfText = (most: number) =>
  z
    .string("Type words here")
    .trim()
    .max(most, `Use at most ${most} characters`)
    .refine((text) => !control.test(text), "Leave out line breaks and control characters");
