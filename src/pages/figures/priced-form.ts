import type { z } from "zod";
import { parseMoney } from "../../rules/currency.ts";
import { type FieldError, type Result, refuse } from "../../rules/problem.ts";
import { readForm } from "../read-form.ts";

/**
 * Reads a form in which some fields are amounts as people type them. Every wrong field is named at
 * once: those that are no amounts first, then what else the shape says.
 */
export function readPriced<T extends z.ZodType>(
  shape: T,
  body: unknown,
  currency: string,
  priced: readonly string[],
): Result<z.output<T>> {
  const fields = { ...(body as Record<string, unknown>) };
  const errors: FieldError[] = [];
  for (const name of priced) {
    const typed = fields[name];
    const amount = parseMoney(typeof typed === "string" ? typed : "", currency, name);
    if (!amount.ok) errors.push(...amount.problem.errors);
    // A stand-in, so that the shape has nothing to add about a field that is named already.
    fields[name] = amount.ok ? amount.value : 1;
  }
  const read = readForm(shape, fields);
  if (errors.length === 0) return read;
  return refuse("invalid-input", "Nothing was recorded yet. What you typed is still here.", [
    ...errors,
    ...(read.ok ? [] : read.problem.errors),
  ]);
}
