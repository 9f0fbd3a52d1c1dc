import type { Database, Transaction } from "../../database/client.ts";
import { type Deed, perform } from "../../database/perform.ts";
import { choicesFrom, type LetterChoices, letterKinds } from "../../rules/letters/kinds.ts";
import type { LetterLanguage } from "../../rules/letters/language.ts";
import { ok, type Result, refuse } from "../../rules/problem.ts";
import type { StopLink } from "./stop-token.ts";

export interface LetterWishes {
  letters: LetterChoices;
  /** Null for the guild's. */
  language: LetterLanguage | null;
}

/** A member says which letters to send and in what language. */
export const chooseLetters = (deed: Deed, wishes: LetterWishes): Promise<Result<LetterWishes>> =>
  perform(deed, "choose-letters", wishes, async (tx) => {
    const { id } = deed.actor;
    const { letters, language } = wishes;
    for (const kind of letterKinds) await choose(tx, { memberId: id, kind }, letters[kind]);
    await tx.member.update({ where: { id }, data: { language } });
    const wanted = letterKinds.filter((kind) => letters[kind]);
    return ok({ value: wishes, subjectId: id, detail: { wanted, language: language ?? "" } });
  });

/**
 * What a link in a letter does, for whoever holds it: turns this one kind off, or on again. Done
 * twice it is done once; a link whose member is not here is as good as none.
 */
export async function chooseByLink(
  { db, requestId }: { db: Database; requestId: string },
  link: StopLink,
  wanted: boolean,
): Promise<Result<StopLink>> {
  const { memberId, kind } = link;
  const member = await db.member.findUnique({
    where: { id: memberId },
    include: { letterChoices: true },
  });
  if (!member) return refuse("not-found", "This link leads nowhere.");
  if (choicesFrom(member.letterChoices)[kind] === wanted) return ok(link);
  const actor = { id: memberId, number: member.number, name: member.name, roles: [] };
  const name = wanted ? "take-letters-back" : "stop-letters";
  return perform({ db, actor, requestId }, name, { link, wanted }, async (tx) => {
    await choose(tx, link, wanted);
    return ok({ value: link, subjectId: memberId, detail: { letters: kind, by: "link" } });
  });
}

const choose = (tx: Transaction, { memberId, kind }: StopLink, wanted: boolean) =>
  tx.$executeRaw`
    INSERT INTO letter_choice (member_id, kind, wanted) VALUES (${memberId}::uuid, ${kind}, ${wanted})
    ON CONFLICT (member_id, kind) DO UPDATE SET wanted = EXCLUDED.wanted`;
