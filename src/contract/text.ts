import * as z from "zod";
import { looksLikeCardNumber } from "../rules/card-number.ts";

/**
 * Control characters would break a line or a tag, and PostgreSQL keeps neither NUL nor half of a
 * surrogate pair. Spaces inside are kept as typed.
 */
const isOneLine = (text: string): boolean => !/[\p{Cc}\p{Cs}]/u.test(text);

/** Line ends are part of a longer text. */
const isPlain = (text: string): boolean => isOneLine(text.replace(/[\n\t]/g, ""));

/** A browser ends lines with two signs; kept as one, the same text is the same wherever it is typed. */
const oneLineEnd = (text: string): string => text.replace(/\r\n?/g, "\n");

const tooLong = (most: number): string => `Use at most ${most} characters`;
const notOneLine = "Use one line of plain letters and signs";
const notPlain = "Use plain letters and signs";

/** One line that may stay empty, at most so many characters. */
export const optionalLine = (most: number) =>
  z.string("Type words here").trim().max(most, tooLong(most)).refine(isOneLine, notOneLine);

/** One line that must say something; `wanted` is what a person reads when it is empty. */
export const line = (most: number, wanted: string) =>
  z.string(wanted).trim().min(1, wanted).max(most, tooLong(most)).refine(isOneLine, notOneLine);

/** Several lines, possibly none. */
export const optionalLines = (most: number) =>
  z
    .string("Type words here")
    .overwrite(oneLineEnd)
    .trim()
    .max(most, tooLong(most))
    .refine(isPlain, notPlain);

/** Several lines that must say something. */
export const lines = (most: number, wanted: string) =>
  z
    .string(wanted)
    .overwrite(oneLineEnd)
    .trim()
    .min(1, wanted)
    .max(most, tooLong(most))
    .refine(isPlain, notPlain);

/** A line beside a payment: what may be a card number is refused, since none may ever be stored. */
export const paymentLine = (most: number) =>
  optionalLine(most).refine(
    (text) => !looksLikeCardNumber(text),
    "This looks like a card number, which must not be kept. Type the terminal's own reference",
  );
