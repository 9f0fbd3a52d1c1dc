const minute = 60_000;
const longestWait = 60 * minute;

/**
 * How long a message is held by whoever sends it, in milliseconds: nobody else takes it meanwhile,
 * and after a crash it comes up again. Who is killed between sending a message and noting that it
 * is sent so sends it a second time; nothing but the mail server could know, and it cannot be asked.
 * The time is ours, no source: it is far longer than the mail server is waited for.
 */
export const heldFor = 10 * minute;

/** How long a message is tried, in milliseconds: a mail server that is down overnight is up again. */
export const triedFor = 24 * 60 * minute;

/**
 * When to try a message again after `tries` tries in vain, the last one at `now`: after a minute,
 * then twice as long each time up to an hour, the last try a day after `since`. Undefined when
 * that day is over and the message is given up. The waits are common practice, no source.
 */
export function nextTry(tries: number, since: Date, now: Date): Date | undefined {
  const last = since.getTime() + triedFor;
  if (now.getTime() >= last) return undefined;
  const wait = Math.min(longestWait, minute * 2 ** (Math.max(tries, 1) - 1));
  return new Date(Math.min(last, now.getTime() + wait));
}
