import { type StopLink, sealStopLink } from "../actions/letters/stop-token.ts";
import type { Database } from "../database/client.ts";
import { readerOf, whatToTell } from "../database/letters/letter-facts.ts";
import {
  delayLetter,
  endLetter,
  forgetLetter,
  takeLetter,
  type WaitingLetter,
} from "../database/letters/queue.ts";
import { writeDueLetters } from "../database/letters/write-letters.ts";
import { letterText } from "../rules/letters/letter-text.ts";
import {
  type Letter,
  type MailParts,
  type MailQueue,
  type MailWorker,
  startMailQueue,
} from "./mail-queue.ts";
import type { MailTrouble } from "./mail-way.ts";

const lookEvery = 60_000;

export interface LetterParts extends MailParts {
  /** The address of the service. A letter without a way to stop it is not sent. */
  site: string | undefined;
  secret: string;
}

/**
 * Writes the letters to members that have become due, and sends them. Without a mail server and an
 * address of its own the service writes none, so that nothing piles up until it has both.
 */
export function startMemberMails(parts: LetterParts): MailWorker {
  const { db, way, site, now, failed } = parts;
  const queue = startMailQueue(parts, letterQueue(parts));
  let writing: Promise<void> | undefined;

  async function write(): Promise<void> {
    if (way && site) await writeDueLetters(db, now()).catch(failed);
  }

  async function wake(): Promise<void> {
    writing ??= write().finally(() => {
      writing = undefined;
    });
    await writing;
    await queue.wake();
  }

  const timer = setInterval(wake, lookEvery);
  timer.unref();
  return {
    wake,
    stop: async () => {
      clearInterval(timer);
      await writing;
      await queue.stop();
    },
  };
}

const letterQueue = (parts: LetterParts): MailQueue<WaitingLetter> => ({
  take: takeLetter,
  letter: (_db, mail) => letterFor(parts, mail),
  // Where nothing can be sent, nothing has failed that somebody ought to phone about.
  end: (db, id, end) =>
    endLetter(db, id, parts.way && parts.site ? end : { ...end, state: "skipped" }),
  delay: delayLetter,
});

const noSite: MailTrouble = { words: "This server does not know its own address", forGood: true };
const noAddress: MailTrouble = { words: "The member has no e-mail address now", forGood: true };

const whyNot = {
  past: "There was nothing to tell any more",
  "statement-mailed": "The statement itself was sent by e-mail",
  unwanted: "The member does not want these letters",
  resting: "The member is resting",
};

async function letterFor(
  { db, site, secret, now }: LetterParts,
  mail: WaitingLetter,
): Promise<Letter | MailTrouble | undefined> {
  if (!site) return noSite;
  const reader = await readerOf(db, mail);
  if (!reader.wanted) return skip(db, mail, whyNot.unwanted, now());
  if (reader.resting) return skip(db, mail, whyNot.resting, now());
  if (reader.address === null) return noAddress;
  const telling = await whatToTell(db, mail, reader, now());
  if (telling === "forget") {
    await forgetLetter(db, mail.id);
    return undefined;
  }
  if (typeof telling === "string") return skip(db, mail, whyNot[telling], now());
  const stop = `${site}/letters/stop/${sealStopLink(secret, mail satisfies StopLink)}`;
  const links = { more: `${site}${telling.path}`, stop, choose: `${site}/account/letters` };
  return {
    ...letterText(telling.facts, { ...reader.setting, links }),
    address: reader.address,
    headers: stopHeaders(stop),
  };
}

async function skip(db: Database, { id }: WaitingLetter, lastError: string, endedAt: Date) {
  await endLetter(db, id, { state: "skipped", lastError, endedAt });
  return undefined;
}

/** RFC 2369 and RFC 8058: the second header promises that a POST alone is enough, and wants HTTPS. */
const stopHeaders = (stop: string): Record<string, string> => ({
  "List-Unsubscribe": `<${stop}>`,
  ...(stop.startsWith("https:") ? { "List-Unsubscribe-Post": "List-Unsubscribe=One-Click" } : {}),
});
