import { heldFor } from "../rules/mail-tries.ts";
import type { Database, Transaction } from "./client.ts";

export interface WaitingStatement {
  id: string;
  statementId: string;
  /** This try among them. */
  tries: number;
  createdAt: Date;
}

/** Takes the message that is due for longest; two workers never take the same one. */
export async function takeStatementMail(
  db: Database,
  now: Date,
): Promise<WaitingStatement | undefined> {
  const until = new Date(now.getTime() + heldFor);
  const rows = await db.$queryRaw<WaitingStatement[]>`
    UPDATE statement_mail SET tries = tries + 1, next_at = ${until} WHERE id = (
      SELECT id FROM statement_mail WHERE state = 'waiting' AND next_at <= ${now}
      ORDER BY next_at, id LIMIT 1 FOR UPDATE SKIP LOCKED)
    RETURNING id, statement_id AS "statementId", tries, created_at AS "createdAt"`;
  return rows[0];
}

export const endStatementMail = (
  db: Database,
  id: string,
  end: { state: "sent" | "failed"; lastError: string; endedAt: Date },
) => db.statementMail.updateMany({ where: { id, state: "waiting" }, data: end });

/** Puts a message back until its next try. */
export const delayStatementMail = (
  db: Database,
  id: string,
  next: { nextAt: Date; lastError: string },
) => db.statementMail.updateMany({ where: { id, state: "waiting" }, data: next });

/** Those never sent, or those that failed; both only where the member has an address. */
export type WhichMails = "new" | "failed";

/** Puts the statements of a settlement in the queue and tells how many. */
export const queueStatementMails = (
  tx: Transaction,
  { settlementId, which, byId }: { settlementId: string; which: WhichMails; byId: string },
): Promise<number> => tx.$executeRaw`
  INSERT INTO statement_mail (id, statement_id, attempt, by_id)
  SELECT gen_random_uuid(), s.id, coalesce(last.attempt, 0) + 1, ${byId}::uuid
  FROM statement s
  JOIN member p ON p.id = s.member_id
  LEFT JOIN LATERAL (SELECT m.attempt, m.state FROM statement_mail m WHERE m.statement_id = s.id
    ORDER BY m.attempt DESC LIMIT 1) last ON true
  WHERE s.settlement_id = ${settlementId}::uuid AND p.email IS NOT NULL
    AND CASE ${which}::text WHEN 'new' THEN last.attempt IS NULL ELSE last.state = 'failed' END
  ORDER BY s.number`;
