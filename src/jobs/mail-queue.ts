import type { SendMailOptions } from "nodemailer";
import type { Database } from "../database/client.ts";
import { nextTry } from "../rules/mail-tries.ts";
import { type MailTrouble, type MailWay, mailTrouble, openMailWay } from "./mail-way.ts";

const lookEvery = 30_000;

export interface MailWorker {
  /** Says that something waits; the promise ends when nothing is due any more. */
  wake(): Promise<void>;
  stop(): Promise<void>;
}

export interface MailParts {
  db: Database;
  /** Without it, what still waits is given up: nobody will send it. */
  way: MailWay | undefined;
  now: () => Date;
  /** Hears of faults; a message that has to wait is none. */
  failed: (error: unknown) => void;
}

export interface QueuedMail {
  id: string;
  /** This try among them. */
  tries: number;
  createdAt: Date;
}

export interface Letter extends Pick<SendMailOptions, "subject" | "text" | "attachments"> {
  address: string;
  /** Beside those that every message of ours has. */
  headers?: Record<string, string>;
}

/** A table of messages: what is due, what it says, and how it ended. */
export interface MailQueue<Mail extends QueuedMail> {
  /** Takes the message that is due for longest, so that no other worker takes it too. */
  take(db: Database, now: Date): Promise<Mail | undefined>;
  /**
   * The message whole, or why there cannot be one; undefined when there is nothing to say any more,
   * and the queue has ended the message itself.
   */
  letter(db: Database, mail: Mail): Promise<Letter | MailTrouble | undefined>;
  end(
    db: Database,
    id: string,
    end: { state: "sent" | "failed"; lastError: string; endedAt: Date },
  ): Promise<unknown>;
  delay(db: Database, id: string, next: { nextAt: Date; lastError: string }): Promise<unknown>;
}

/**
 * Sends the messages of a queue, one at a time, inside this process. The queue is in the database:
 * a restart sends the rest, and a second process never takes the same message.
 */
export function startMailQueue<Mail extends QueuedMail>(
  parts: MailParts,
  queue: MailQueue<Mail>,
): MailWorker {
  const transport = parts.way && openMailWay(parts.way);
  let working: Promise<void> | undefined;
  let again = false;
  let stopped = false;

  async function work(): Promise<void> {
    do {
      again = false;
      while (!stopped) {
        const mail = await queue.take(parts.db, parts.now());
        if (!mail) break;
        const outcome = await send(mail);
        if (outcome !== "ended") await settle(parts, queue, mail, outcome);
      }
    } while (again && !stopped);
  }

  /** A fault of ours makes one message wait like any other trouble, and not those behind it. */
  async function send(mail: Mail): Promise<Outcome> {
    try {
      return await sent(parts, queue, transport, mail);
    } catch (error) {
      parts.failed(error);
      return { words: "Something went wrong on our side", forGood: false };
    }
  }

  function wake(): Promise<void> {
    if (stopped) return Promise.resolve();
    again = true;
    working ??= work()
      .catch(parts.failed)
      .finally(() => {
        working = undefined;
        // Something may have come between the last look and this line.
        if (again && !stopped) void wake();
      });
    return working;
  }

  const timer = setInterval(wake, lookEvery);
  timer.unref();
  return {
    wake,
    stop: async () => {
      stopped = true;
      clearInterval(timer);
      // The message under way is finished, or it would go out twice.
      await working;
      transport?.close();
    },
  };
}

const noWay: MailTrouble = { words: "This server has no mail server set", forGood: true };

/** Undefined when the mail server took the message, else why not; or there was none to send. */
type Outcome = MailTrouble | "ended" | undefined;

async function sent<Mail extends QueuedMail>(
  { db, way }: MailParts,
  queue: MailQueue<Mail>,
  transport: ReturnType<typeof openMailWay> | undefined,
  mail: Mail,
): Promise<Outcome> {
  if (!way || !transport) return noWay;
  const letter = await queue.letter(db, mail);
  if (!letter) return "ended";
  if ("words" in letter) return letter;
  const { address, headers, ...content } = letter;
  try {
    await transport.sendMail({
      ...content,
      to: { name: "", address },
      // The same at every try: should one go out twice, mail programs show one.
      messageId: `<${mail.id}@${hostOf(way.from)}>`,
      headers: { "Auto-Submitted": "auto-generated", ...headers },
    });
    return undefined;
  } catch (error) {
    return mailTrouble(error);
  }
}

const hostOf = (from: string): string => /@([^\s@>]+)>?\s*$/.exec(from)?.[1] ?? "localhost";

async function settle<Mail extends QueuedMail>(
  { db, now }: MailParts,
  queue: MailQueue<Mail>,
  { id, tries, createdAt }: Mail,
  trouble: MailTrouble | undefined,
): Promise<void> {
  const at = now();
  if (!trouble) {
    await queue.end(db, id, { state: "sent", lastError: "", endedAt: at });
    return;
  }
  const nextAt = trouble.forGood ? undefined : nextTry(tries, createdAt, at);
  const lastError = trouble.words;
  if (nextAt) await queue.delay(db, id, { nextAt, lastError });
  else await queue.end(db, id, { state: "failed", lastError, endedAt: at });
}
