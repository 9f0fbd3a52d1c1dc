import { type Deed, perform } from "../database/perform.ts";
import { ok, type Result, refuseField } from "../rules/problem.ts";
import { fits, newHash } from "./passphrase.ts";

/** Changes one's own pass phrase; the present one is asked again, and other devices are signed out. */
export async function changePassphrase(
  deed: Deed,
  given: { current: string; passphrase: string; sessionId: string },
): Promise<Result<{ endedElsewhere: number }>> {
  const { db, actor } = deed;
  const member = await db.member.findUniqueOrThrow({ where: { id: actor.id } });
  if (!(await fits(given.current, member.passphraseHash)))
    return refuseField("current", "This is not your present pass phrase.");
  const hashed = await newHash(db, member, given.passphrase);
  if (!hashed.ok) return hashed;
  const passphraseHash = hashed.value;
  return perform({ ...deed, key: undefined }, "change-passphrase", {}, async (tx) => {
    await tx.member.update({ where: { id: actor.id }, data: { passphraseHash } });
    const ended = await tx.session.updateMany({
      where: { memberId: actor.id, endedAt: null, id: { not: given.sessionId } },
      data: { endedAt: new Date() },
    });
    return ok({ value: { endedElsewhere: ended.count }, subjectId: actor.id });
  });
}
