import { z } from "zod";

/** Signs that would break a line, a tag or the database; spaces inside are kept as typed. */
const isOneLine = (text: string): boolean => !/\p{Cc}/u.test(text);

/** Line ends are part of a longer text; other control signs are not. */
const isPlain = (text: string): boolean => !/\p{Cc}/u.test(text.replace(/[\n\t]/g, ""));

/** A browser ends lines with two signs; kept as one, the same text is the same wherever it is typed. */
const oneLineEnd = (text: string): string => text.replace(/\r\n?/g, "\n");

const tooLong = (most: number): string => `Use at most ${most} characters`;

/** One line that may stay empty. */
export const optionalLine = (most: number) =>
  z
    .string()
    .trim()
    .max(most, tooLong(most))
    .refine(isOneLine, "Use one line of plain letters and signs");

/** One line that must say something; `wanted` is what a person reads when it is empty. */
export const line = (most: number, wanted: string) =>
  z
    .string(wanted)
    .trim()
    .min(1, wanted)
    .max(most, tooLong(most))
    .refine(isOneLine, "Use one line of plain letters and signs");

/** Several lines, possibly none. */
export const optionalLines = (most: number) =>
  z
    .string()
    .overwrite(oneLineEnd)
    .trim()
    .max(most, tooLong(most))
    .refine(isPlain, "Use plain letters and signs");

/** Several lines that must say something. */
export const lines = (most: number, wanted: string) =>
  z
    .string(wanted)
    .overwrite(oneLineEnd)
    .trim()
    .min(1, wanted)
    .max(most, tooLong(most))
    .refine(isPlain, "Use plain letters and signs");

/** The number of the state a person was looking at; an older one means somebody was quicker. */
export const versionNumber = z.int("Load the page again and repeat the change").min(1);
