import { openStopLink } from "../../src/actions/letters/stop-token.ts";
import type { Database } from "../../src/database/client.ts";
import type { MailWorker } from "../../src/jobs/mail-queue.ts";
import { startMemberMails } from "../../src/jobs/member-mails.ts";
import { secret } from "./app.ts";
import { freshDatabase, type TestDatabase } from "./database.ts";
import { type MailServer, startMailServer, toOf } from "./mail-server.ts";

export const site = "https://sale.example.org";

/** A database, a mail server and a clock, with as many workers between them as a test wants. */
export async function letterPost() {
  const base: TestDatabase = await freshDatabase();
  const server: MailServer = await startMailServer();
  const workers: MailWorker[] = [];
  const faults: unknown[] = [];
  let now = new Date();

  const worker = (more: object = {}): MailWorker => {
    const one = startMemberMails({
      ...{ db: base.db, way: { url: server.url, from: "Our guild <sale@example.org>" } },
      ...{ site, secret, now: () => now },
      failed: (error) => faults.push(error),
      ...more,
    });
    workers.push(one);
    return one;
  };

  return {
    db: base.db as Database,
    server,
    faults,
    worker,
    /** Moves the clock. */
    at: (text: string | Date) => {
      now = new Date(text);
    },
    /** One worker looks once and is gone again, as after a restart. */
    async look(more: object = {}) {
      const one = worker(more);
      await one.wake();
      await one.stop();
    },
    /** Ends the workers and forgets letters, choices and what arrived. */
    async tidy() {
      await Promise.all(workers.splice(0).map((one) => one.stop()));
      server.refuse();
      server.letters.length = 0;
      server.asked.length = 0;
      await base.db.memberMail.deleteMany();
      await base.db.letterChoice.deleteMany();
      return faults.splice(0);
    },
    arrived: () => server.letters.map(toOf).sort(),
    rows: () => base.db.memberMail.findMany({ orderBy: [{ createdAt: "asc" }, { id: "asc" }] }),
    want: (memberId: string, kind: string, wanted: boolean) =>
      base.db.letterChoice.upsert({
        where: { memberId_kind: { memberId, kind } },
        create: { memberId, kind, wanted },
        update: { wanted },
      }),
    async close() {
      await Promise.all(workers.splice(0).map((one) => one.stop()));
      await server.stop();
      await base.drop();
    },
  };
}

export type LetterPost = Awaited<ReturnType<typeof letterPost>>;

/** What the link that stops a letter's kind opens to. */
export function stopLinkIn(text: string | undefined) {
  const token = /\/letters\/stop\/([\w-]+)/.exec(text ?? "")?.[1] ?? "";
  return openStopLink(secret, token);
}
