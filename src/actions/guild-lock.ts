import type { Transaction } from "../database/client.ts";
import { ok, problem, type Result, refuse } from "../rules/problem.ts";
import { firstMemberNumber, lastMemberNumber, type TagLength } from "../rules/tag-number.ts";

/** Deeds about who belongs to the guild take turns here: numbers in order, never no chair at all. */
export async function lockGuild(tx: Transaction): Promise<{ tagLength: TagLength }> {
  const rows = await tx.$queryRaw<{ tagLength: TagLength }[]>`
    SELECT tag_length AS "tagLength" FROM guild WHERE id = 1 FOR UPDATE`;
  if (!rows[0]) throw new Error("There is no guild yet.");
  return rows[0];
}

/** The next `count` member numbers; call it with the guild locked. */
export async function nextMemberNumbers(
  tx: Transaction,
  count: number,
): Promise<Result<{ first: number }>> {
  const { tagLength } = await lockGuild(tx);
  const last = await tx.member.aggregate({ _max: { number: true } });
  const first = Math.max(firstMemberNumber(tagLength), (last._max.number ?? 0) + 1);
  const room = lastMemberNumber(tagLength) - first + 1;
  if (count <= room) return ok({ first });
  return refuse(
    "limit-reached",
    `Tags of ${tagLength} digits leave room for ${Math.max(0, room)} more members. Nobody was added.`,
  );
}

/** What the unique index of e-mails means in words. */
export const emailTaken = {
  member_email_key: () =>
    problem("invalid-input", "Another member has this e-mail already.", [
      { field: "email", message: "Another member has this e-mail already." },
    ]),
};
