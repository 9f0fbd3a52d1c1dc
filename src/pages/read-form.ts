import type { z } from "zod";
import { ok, problem, type Result } from "../rules/problem.ts";

/** Reads a form: every wrong field is named at once, in the words of the shape. */
export function readForm<T extends z.ZodType>(shape: T, body: unknown): Result<z.output<T>> {
  const { _csrf, _key, ...fields } = (body ?? {}) as Record<string, unknown>;
  const read = shape.safeParse(fields);
  if (read.success) return ok(read.data);
  const errors = read.error.issues.map((issue) => ({
    field: issue.path.join("."),
    message: issue.message,
  }));
  return {
    ok: false,
    problem: problem(
      "invalid-input",
      "Nothing was recorded yet. What you typed is still here.",
      errors,
    ),
  };
}
