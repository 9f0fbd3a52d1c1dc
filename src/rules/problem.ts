/**
 * Every expected refusal, named once. A code never changes meaning: API clients and the till
 * decide by it. `status` is the HTTP status; `title` is what a person reads first.
 */
const table = {
  "invalid-input": { status: 400, title: "Something in the form needs another look" },
  "not-signed-in": { status: 401, title: "Please sign in" },
  "wrong-sign-in": {
    status: 401,
    title: "That number or e-mail and pass phrase do not go together",
  },
  "not-a-till": { status: 401, title: "This device is not a till" },
  "not-allowed": { status: 403, title: "Your roles do not include this" },
  "form-expired": { status: 403, title: "This page had been open too long" },
  "not-found": { status: 404, title: "There is nothing here" },
  "link-used": { status: 410, title: "This link has been used or is too old" },
  "too-many-tries": { status: 429, title: "Please wait a little before the next try" },
  "unknown-tag": { status: 404, title: "No piece has this tag number" },
  "wrong-check-digits": { status: 400, title: "The check digits do not fit this tag number" },
  "stage-closed": { status: 409, title: "The sale is at another stage" },
  "changed-meanwhile": { status: 409, title: "Somebody changed this meanwhile" },
  "already-done": { status: 409, title: "This has been done already" },
  "already-sold": { status: 409, title: "This piece is already sold" },
  "not-on-floor": { status: 409, title: "This piece is not on the sale floor" },
  "checked-in": { status: 409, title: "The desk has taken this piece in" },
  withdrawn: { status: 409, title: "This entry was withdrawn" },
  "other-sale": { status: 409, title: "This piece was entered for another sale" },
  "till-closed": { status: 409, title: "This till is not open" },
  "out-of-order": { status: 409, title: "An earlier receipt of this till comes first" },
  "limit-reached": { status: 409, title: "A limit of this sale is reached" },
  "label-too-small": { status: 409, title: "A label has no room for what must be on it" },
  "look-first": { status: 409, title: "Look at this piece first" },
  "no-mail": { status: 409, title: "This server sends no e-mail" },
  "still-open": { status: 409, title: "Something has to be finished first" },
  "key-reused": { status: 422, title: "The same key came with other content" },
  "outcome-unknown": { status: 503, title: "We could not confirm that this was recorded" },
} as const;

export type ProblemCode = keyof typeof table;

/** One field of a form or of a JSON body, by its path ("price", "fibres.1.percent"). */
export interface FieldError {
  field: string;
  message: string;
}

export interface Problem {
  code: ProblemCode;
  status: number;
  title: string;
  /** What happened, what was kept and what to do, in one or two plain sentences. */
  detail: string;
  errors: FieldError[];
}

export type Result<T> = { ok: true; value: T } | { ok: false; problem: Problem };

export const ok = <T>(value: T): Result<T> => ({ ok: true, value });

export function problem(code: ProblemCode, detail: string, errors: FieldError[] = []): Problem {
  return { code, ...table[code], detail, errors };
}

export const refuse = (
  code: ProblemCode,
  detail: string,
  errors: FieldError[] = [],
): { ok: false; problem: Problem } => ({ ok: false, problem: problem(code, detail, errors) });

/** Refuses one field: the message stands beside the field and in the summary. */
export const refuseField = (field: string, message: string) =>
  refuse("invalid-input", message, [{ field, message }]);
