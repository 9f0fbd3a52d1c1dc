/** What PostgreSQL said, dug out of the shapes in which Prisma passes it on. */
export interface DatabaseError {
  sqlState: string;
  /** The constraint that was broken, or the short key of a refusal raised by a trigger (TB002). */
  rule: string;
  message: string;
}

interface Cause {
  originalCode?: string;
  originalMessage?: string;
}

/** Returns undefined for errors that did not come from PostgreSQL. */
export function databaseError(error: unknown): DatabaseError | undefined {
  const cause = causeOf(error);
  if (!cause?.originalCode) return undefined;
  const message = cause.originalMessage ?? "";
  // With TB002 the message is the key; otherwise the last quoted name is the constraint.
  const names = [...message.matchAll(/constraint "([^"]+)"/g)];
  const rule = cause.originalCode === "TB002" ? message : (names.at(-1)?.[1] ?? "");
  return { sqlState: cause.originalCode, rule, message };
}

/** The ORM wraps the driver's error in `meta`; a COMMIT that fails passes it on bare. */
function causeOf(error: unknown): Cause | undefined {
  if (typeof error !== "object" || error === null) return undefined;
  const wrapped = error as { meta?: { driverAdapterError?: { cause?: Cause } }; cause?: Cause };
  return wrapped.meta?.driverAdapterError?.cause ?? wrapped.cause;
}

/** Serialisation failure and deadlock: the whole transaction may simply be run again. */
const againStates = new Set(["40001", "40P01"]);

export const mayRunAgain = (error: unknown): boolean =>
  againStates.has(databaseError(error)?.sqlState ?? "") || codeOf(error) === "P2034";

/** A constraint, a trigger or a type refuses the data themselves: the same would be refused again. */
export const dataRefused = (error: unknown): boolean =>
  /^(22|23|TB)/.test(databaseError(error)?.sqlState ?? "");

/** Time ran out or the server went away: what became of the work is not known here. */
const lostStates = /^(57014|57P0\d|08\w{3}|53\w{3}|55P03|25P0\d)$/;
const lostCodes = new Set(["P1001", "P1002", "P1008", "P1017", "P2024", "P2028"]);

export const outcomeUnknown = (error: unknown): boolean =>
  lostCodes.has(codeOf(error)) ||
  lostStates.test(databaseError(error)?.sqlState ?? "") ||
  /ECONNREFUSED|ECONNRESET|Connection terminated|timeout exceeded|DatabaseNotReachable/i.test(
    String(error),
  );

const codeOf = (error: unknown): string =>
  typeof error === "object" && error !== null && "code" in error ? String(error.code) : "";
