import { createHash } from "node:crypto";
import { type Problem, problem, type Result, refuse } from "../rules/problem.ts";
import type { Role } from "../rules/roles.ts";
import { backOff } from "./back-off.ts";
import { canonical } from "./canonical.ts";
import { type Database, patience, type Transaction } from "./client.ts";
import { databaseError, mayRunAgain, outcomeUnknown } from "./database-error.ts";
import { announceTillChange } from "./till-announce.ts";

export interface Actor {
  id: string;
  number: number;
  name: string;
  roles: Role[];
}

/** Who asks for a deed, under which key, in which request. */
export interface Deed {
  db: Database;
  actor: Actor;
  requestId: string;
  /** The Idempotency-Key of an API call or the hidden key of a form. */
  key?: string;
}

/** What a deed leaves behind: the answer, and the audit row that goes with it. */
export interface Done<T> {
  value: T;
  subjectId: string;
  detail?: object;
}

export type Work<T> = (tx: Transaction) => Promise<Result<Done<T>>>;

/** Turns a broken constraint or a trigger's key into a refusal in plain words. */
export type Refusals = Record<string, () => Problem>;

const tries = 5;

/**
 * Runs one deed: work, audit row and key in one transaction. The same key with the same content
 * answers what it answered the first time; with other content it is refused. A refusal by `work`
 * or by the database keeps nothing. `T` must be plain JSON, since a replay reads it back from it.
 */
export async function perform<T>(
  deed: Deed,
  name: string,
  content: unknown,
  work: Work<T>,
  refusals: Refusals = {},
): Promise<Result<T>> {
  const fingerprint = createHash("sha256").update(canonical({ name, content })).digest("hex");
  for (let attempt = 1; ; attempt += 1) {
    try {
      const done = await once(deed, name, fingerprint, work);
      announceTillChange(deed.db);
      return done;
    } catch (error) {
      const answer = answerTo(error, refusals);
      if (answer) return answer;
      if (!mayRunAgain(error) || attempt === tries) throw error;
      await backOff(attempt);
    }
  }
}

/** Carries a refusal out of the transaction, so that leaving it rolls everything back. */
class Refused extends Error {
  constructor(readonly problem: Problem) {
    super(problem.code);
  }
}

function answerTo(error: unknown, refusals: Refusals): Result<never> | undefined {
  if (error instanceof Refused) return { ok: false, problem: error.problem };
  const known = refusals[databaseError(error)?.rule ?? ""];
  if (known) return { ok: false, problem: known() };
  return outcomeUnknown(error) ? { ok: false, problem: unknown() } : undefined;
}

export const unknown = (): Problem =>
  problem(
    "outcome-unknown",
    "The database did not answer in time. Send the same again: if it was recorded, you get its answer; if not, it is recorded then.",
  );

async function once<T>(deed: Deed, name: string, fingerprint: string, work: Work<T>) {
  const value = await deed.db.$transaction(async (tx) => {
    const earlier = await earlierAnswer<T>(tx, deed, fingerprint);
    if (earlier) return orThrow(earlier);
    const done = orThrow(await work(tx));
    await writeTraces(tx, deed, name, fingerprint, done);
    return done.value;
  }, patience);
  return { ok: true as const, value };
}

function orThrow<T>(result: Result<T>): T {
  if (!result.ok) throw new Refused(result.problem);
  return result.value;
}

async function earlierAnswer<T>(
  tx: Transaction,
  deed: Deed,
  fingerprint: string,
): Promise<Result<T> | undefined> {
  if (!deed.key) return undefined;
  const owner = deed.actor.id;
  // Twins of one request queue here, so that the second finds what the first answered.
  await tx.$executeRaw`SELECT pg_advisory_xact_lock(hashtextextended(${`${owner} ${deed.key}`}, 0))`;
  const row = await tx.keyedDeed.findUnique({ where: { owner_key: { owner, key: deed.key } } });
  if (!row) return undefined;
  if (row.fingerprint !== fingerprint)
    return refuse("key-reused", "This key was used for something else. What came first was kept.");
  return { ok: true, value: row.result as T };
}

async function writeTraces<T>(
  tx: Transaction,
  deed: Deed,
  name: string,
  fingerprint: string,
  done: Done<T>,
) {
  const { value, subjectId, detail = {} } = done;
  await tx.audit.create({
    data: { deed: name, subjectId, detail, byId: deed.actor.id, requestId: deed.requestId },
  });
  if (!deed.key) return;
  const result = (value ?? {}) as object;
  await tx.keyedDeed.create({
    data: { owner: deed.actor.id, key: deed.key, deed: name, fingerprint, result },
  });
}
