import type { Database } from "../database/client.ts";
import {
  delayReceiptMail,
  endReceiptMail,
  takeReceiptMail,
  type WaitingMail,
} from "../database/receipt-mails.ts";
import { gatherReceipt } from "../database/receipt-paper.ts";
import { nextTry } from "../rules/mail-tries.ts";
import { type MailTrouble, type MailWay, mailTrouble, openMailWay } from "./mail-way.ts";
import { receiptLetter } from "./receipt-letter.ts";

const lookEvery = 30_000;

export interface ReceiptMails {
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

/**
 * Sends receipts to the buyers who asked, one at a time, inside this process. The queue is in the
 * database: a restart sends the rest, and a second process never takes the same message.
 */
export function startReceiptMails(parts: MailParts): ReceiptMails {
  const transport = parts.way && openMailWay(parts.way);
  let working: Promise<void> | undefined;
  let again = false;
  let stopped = false;

  async function work(): Promise<void> {
    do {
      again = false;
      while (!stopped) {
        const mail = await takeReceiptMail(parts.db, parts.now());
        if (!mail) break;
        await settle(parts, mail, await send(mail));
      }
    } while (again && !stopped);
  }

  /** A fault of ours makes one message wait like any other trouble, and not those behind it. */
  async function send(mail: WaitingMail): Promise<MailTrouble | undefined> {
    try {
      return await sent(parts, transport, mail);
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

/** Undefined when the mail server took the message, else why not. */
async function sent(
  { db, way }: MailParts,
  transport: ReturnType<typeof openMailWay> | undefined,
  mail: WaitingMail,
): Promise<MailTrouble | undefined> {
  if (!way || !transport) return noWay;
  const gathered = await gatherReceipt(db, mail.receiptId);
  if (!gathered) throw new Error(`Receipt ${mail.receiptId} has a mail and is not there`);
  const letter = await receiptLetter(gathered);
  try {
    await transport.sendMail({
      ...letter,
      to: { name: "", address: mail.address },
      // The same at every try: should one go out twice, mail programs show one.
      messageId: `<${mail.id}@${hostOf(way.from)}>`,
      headers: { "Auto-Submitted": "auto-generated" },
    });
    return undefined;
  } catch (error) {
    return mailTrouble(error);
  }
}

const hostOf = (from: string): string => /@([^\s@>]+)>?\s*$/.exec(from)?.[1] ?? "localhost";

async function settle(
  { db, now }: MailParts,
  { id, tries, createdAt }: WaitingMail,
  trouble: MailTrouble | undefined,
): Promise<void> {
  const at = now();
  if (!trouble) {
    await endReceiptMail(db, id, { state: "sent", lastError: "", endedAt: at });
    return;
  }
  const nextAt = trouble.forGood ? undefined : nextTry(tries, createdAt, at);
  const lastError = trouble.words;
  if (nextAt) await delayReceiptMail(db, id, { nextAt, lastError });
  else await endReceiptMail(db, id, { state: "failed", lastError, endedAt: at });
}
