import { v7 } from "uuid";
import type { Transaction } from "../database/client.ts";
import { type Deed, perform } from "../database/perform.ts";
import { queueStatementMails, type WhichMails } from "../database/statement-mail-queue.ts";
import { momentText } from "../rules/moment.ts";
import { ok, type Result, refuse } from "../rules/problem.ts";

export interface QueuedStatements {
  settlementId: string;
  queued: number;
  /** Members of the settlement whose statements have to be printed. */
  withoutAddress: number;
}

/**
 * Puts the statements of a settlement in the queue for e-mail: those never sent, or those that
 * failed. What was sent is not sent again here, so whoever presses second finds nothing to do.
 */
export const mailStatements = (
  deed: Deed,
  input: { settlementId: string; which: WhichMails },
): Promise<Result<QueuedStatements>> =>
  perform(deed, "mail-statements", input, async (tx) => {
    const { settlementId, which } = input;
    await takeTurn(tx, settlementId);
    if (!(await tx.settlement.findUnique({ where: { id: settlementId } })))
      return refuse("not-found", "There is no such settlement.");
    const queued = await queueStatementMails(tx, { ...input, byId: deed.actor.id });
    if (queued === 0) return refuse("already-done", nothingTo[which]);
    const withoutAddress = await tx.statement.count({
      where: { settlementId, member: { email: null } },
    });
    const value = { settlementId, queued, withoutAddress };
    return ok({ value, subjectId: settlementId, detail: { which, queued, withoutAddress } });
  });

const nothingTo: Record<WhichMails, string> = {
  new: "Nothing was sent: every statement whose member has an address has been sent or is waiting. Print the others.",
  failed: "Nothing was sent: no message has failed whose member has an address now.",
};

export interface QueuedStatement {
  mailId: string;
  statementId: string;
  attempt: number;
}

/**
 * Puts one statement in the queue, also one that was sent before: somebody asked for it. `after`
 * is how many messages the person saw, so that of two who ask at once one is told of the other.
 */
export const mailStatement = (
  deed: Deed,
  input: { statementId: string; after: number },
): Promise<Result<QueuedStatement>> =>
  perform(deed, "mail-statement", input, async (tx) => {
    const { statementId, after } = input;
    const statement = await tx.statement.findUnique({
      where: { id: statementId },
      include: { member: true },
    });
    if (!statement) return refuse("not-found", "There is no such statement.");
    await takeTurn(tx, statement.settlementId);
    if (statement.member.email === null)
      return refuse(
        "still-open",
        "Nothing was sent: this member has no e-mail address. Add one on the member's page, or print the statement.",
      );
    const last = await tx.statementMail.findFirst({
      where: { statementId },
      orderBy: { attempt: "desc" },
    });
    if (last?.state === "waiting" || (last?.attempt ?? 0) !== after)
      return refuse("already-done", await meanwhile(tx, last));
    const value = { mailId: v7(), statementId, attempt: after + 1 };
    const { mailId: id, attempt } = value;
    await tx.statementMail.create({ data: { id, statementId, attempt, byId: deed.actor.id } });
    return ok({ value, subjectId: statementId, detail: { number: statement.number, attempt } });
  });

/** All messages of a settlement are queued in turn: the second sees what the first queued. */
const takeTurn = (tx: Transaction, settlementId: string) =>
  tx.$executeRaw`SELECT pg_advisory_xact_lock(hashtextextended(${`mail ${settlementId}`}, 0))`;

async function meanwhile(
  tx: Transaction,
  last: { byId: string; createdAt: Date } | null,
): Promise<string> {
  if (!last) return "Nothing was sent: no message for this statement was there to follow.";
  const guild = await tx.guild.findFirstOrThrow();
  const who = await tx.member.findUniqueOrThrow({ where: { id: last.byId } });
  const when = momentText(last.createdAt, guild.locale, guild.timeZone);
  return `${who.name} asked for it on ${when}, so nothing more was sent. Look how far that message has come.`;
}
