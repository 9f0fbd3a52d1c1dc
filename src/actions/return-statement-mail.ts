import { type Deed, perform } from "../database/perform.ts";
import { ok, type Result, refuse } from "../rules/problem.ts";

export interface ReturnedMail {
  mailId: string;
  statementId: string;
}

/**
 * Notes that a message which the mail server had taken came back later as a mail. The row's state
 * decides: of two who note it at once one wins.
 */
export const returnStatementMail = (
  deed: Deed,
  input: { mailId: string; note: string },
): Promise<Result<ReturnedMail>> =>
  perform(deed, "return-statement-mail", input, async (tx) => {
    const { mailId, note } = input;
    const mail = await tx.statementMail.findUnique({
      where: { id: mailId },
      include: { statement: true },
    });
    if (!mail) return refuse("not-found", "There is no such message.");
    const { count } = await tx.statementMail.updateMany({
      where: { id: mailId, state: "sent" },
      data: { state: "returned", note, returnedAt: new Date() },
    });
    if (count === 0)
      return refuse(
        "already-done",
        "Nothing was noted: only a message that was sent can come back, and only once.",
      );
    const { statementId, attempt } = mail;
    const detail = { number: mail.statement.number, attempt, note };
    return ok({ value: { mailId, statementId }, subjectId: statementId, detail });
  });
