import {
  delayStatementMail,
  endStatementMail,
  takeStatementMail,
  type WaitingStatement,
} from "../database/statement-mail-queue.ts";
import { gatherStatements } from "../database/statements.ts";
import { type MailParts, type MailQueue, type MailWorker, startMailQueue } from "./mail-queue.ts";
import { statementLetter } from "./statement-letter.ts";

const statementQueue: MailQueue<WaitingStatement> = {
  take: takeStatementMail,
  async letter(db, { statementId }) {
    const [statement] = await gatherStatements(db, { id: statementId });
    if (!statement) throw new Error(`Statement ${statementId} has a mail and is not there`);
    const { email } = await db.member.findUniqueOrThrow({ where: { id: statement.memberId } });
    if (email === null) return { words: "The member has no e-mail address now", forGood: true };
    return { ...(await statementLetter(statement)), address: email };
  },
  end: endStatementMail,
  delay: delayStatementMail,
};

/** Sends statements to their members, each to the address that the member has at that moment. */
export const startStatementMails = (parts: MailParts): MailWorker =>
  startMailQueue(parts, statementQueue);
