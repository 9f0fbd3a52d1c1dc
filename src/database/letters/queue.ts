import type { LetterKind } from "../../rules/letters/kinds.ts";
import { heldFor } from "../../rules/mail-tries.ts";
import type { Database } from "../client.ts";

export interface WaitingLetter {
  id: string;
  memberId: string;
  kind: LetterKind;
  subjectId: string;
  occasion: string;
  saleId: string;
  /** This try among them. */
  tries: number;
  /** When the first try was made: a letter may be written long before it is due. */
  createdAt: Date;
}

/** Takes the letter that is due for longest; two workers never take the same one. */
export async function takeLetter(db: Database, now: Date): Promise<WaitingLetter | undefined> {
  const until = new Date(now.getTime() + heldFor);
  const rows = await db.$queryRaw<WaitingLetter[]>`
    UPDATE member_mail SET tries = tries + 1, next_at = ${until}, first_try_at = coalesce(first_try_at, ${now})
    WHERE id = (
      SELECT id FROM member_mail WHERE state = 'waiting' AND next_at <= ${now}
      ORDER BY next_at, id LIMIT 1 FOR UPDATE SKIP LOCKED)
    RETURNING id, member_id AS "memberId", kind, subject_id AS "subjectId", occasion, sale_id AS "saleId",
      tries, first_try_at AS "createdAt"`;
  return rows[0];
}

export const endLetter = (
  db: Database,
  id: string,
  end: { state: "sent" | "failed" | "skipped"; lastError: string; endedAt: Date },
) => db.memberMail.updateMany({ where: { id, state: "waiting" }, data: end });

/** Puts a letter back until its next try. */
export const delayLetter = (db: Database, id: string, next: { nextAt: Date; lastError: string }) =>
  db.memberMail.updateMany({ where: { id, state: "waiting" }, data: next });

/** As if it had never been written, so that it can be once there is something to tell. */
export const forgetLetter = (db: Database, id: string) =>
  db.memberMail.deleteMany({ where: { id, state: "waiting" } });
