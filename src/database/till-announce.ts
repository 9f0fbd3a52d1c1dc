import type { Database } from "./client.ts";

/** Eight tills can record more often than anybody needs to be told. */
const gapMilliseconds = 50;

interface Announcer {
  last: number;
  timer: NodeJS.Timeout | undefined;
}

const announcers = new WeakMap<Database, Announcer>();

/**
 * Tells every server of this database that something changed for the tills: at once, or together
 * with others shortly after. To be called when the change is committed. The notification is a
 * statement of its own: inside the transactions of receipts it would make their commits queue, as
 * PostgreSQL lets only one committing transaction at a time notify. One that is lost does no harm,
 * because the streams look for themselves every few seconds.
 */
export function announceTillChange(db: Database): void {
  const announcer = announcers.get(db) ?? { last: 0, timer: undefined };
  announcers.set(db, announcer);
  if (announcer.timer) return;
  const wait = announcer.last + gapMilliseconds - Date.now();
  announcer.timer = setTimeout(
    () => {
      announcer.timer = undefined;
      announcer.last = Date.now();
      db.$queryRaw`SELECT pg_notify('till_change', '')::text`.catch(() => {});
    },
    Math.max(0, Math.min(wait, gapMilliseconds)),
  );
  announcer.timer.unref();
}
