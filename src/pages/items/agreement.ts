import { tickWords } from "../../actions/entry-rules.ts";
import type { Problem } from "../../rules/problem.ts";
import { type Fields, textOf } from "./fields.ts";
import type { Scene } from "./scene.ts";

/** The version on the ticked box: the wording that stood on the screen. */
export const agreedTo = (body: Fields): number | undefined => {
  const text = textOf(body, "agreementVersion");
  return /^\d{1,6}$/.test(text) ? Number(text) : undefined;
};

/** What was typed, but never a tick under a wording that has changed since. */
export function shownAgain(body: Fields, { agreement }: Scene): Fields {
  const agreed = agreedTo(body);
  return { ...body, agreementVersion: agreed === agreement?.version ? agreed : undefined };
}

/** A box that was left empty is told with the other fields, and not after they are put right. */
export function withAgreement(problem: Problem, body: Fields, { agreement }: Scene): Problem {
  const field = "agreementVersion";
  const told = problem.errors.some((error) => error.field === field);
  const missing = agreement !== null && agreedTo(body) === undefined;
  if (problem.code !== "invalid-input" || told || !missing) return problem;
  return { ...problem, errors: [...problem.errors, { field, message: tickWords }] };
}
