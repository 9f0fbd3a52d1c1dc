import { ok, problem, type Result } from "../rules/problem.ts";
import type { Stock } from "./stock.ts";
import { checkStock } from "./stock-check.ts";

/** A stock whose labels lie on their paper and have room for what they carry, or why not. */
export function checkedStock<T extends Stock>(stock: T): Result<T> {
  const errors = checkStock(stock);
  if (errors.length === 0) return ok(stock);
  const detail = "Nothing was recorded yet. What you typed is still here.";
  return { ok: false, problem: problem("invalid-input", detail, errors) };
}
