import { type Deed, perform } from "../../database/perform.ts";
import { ok, type Result, refuse } from "../../rules/problem.ts";

/**
 * Notes that a letter which the mail server had taken came back later. The row's state decides: of
 * two who note it at once one wins.
 */
export const returnLetter = (
  deed: Deed,
  input: { letterId: string; note: string },
): Promise<Result<{ letterId: string }>> =>
  perform(deed, "return-letter", input, async (tx) => {
    const { letterId, note } = input;
    const letter = await tx.memberMail.findUnique({
      where: { id: letterId },
      include: { member: { select: { number: true } } },
    });
    if (!letter) return refuse("not-found", "There is no such letter.");
    const { count } = await tx.memberMail.updateMany({
      where: { id: letterId, state: "sent" },
      data: { state: "returned", note, returnedAt: new Date() },
    });
    if (count === 0)
      return refuse(
        "already-done",
        "Nothing was noted: only a letter that was sent can come back, and only once.",
      );
    const detail = { letters: letter.kind, member: letter.member.number, note };
    return ok({ value: { letterId }, subjectId: letter.memberId, detail });
  });
