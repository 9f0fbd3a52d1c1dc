import { v7 } from "uuid";
import { type DraftInput, type KeptDraft, mostDrafts } from "../../contract/draft.ts";
import { canonical } from "../../database/canonical.ts";
import { type Database, patience, type Transaction } from "../../database/client.ts";
import { type DraftRead, draftsOf } from "../../database/drafts.ts";
import { ok, type Result, refuse } from "../../rules/problem.ts";
import { lockMember } from "../lock-rows.ts";

export interface DraftKeeping {
  db: Database;
  memberId: string;
  now: Date;
}

/**
 * Keeps what somebody has typed so far. It changes no money, goods or people and comes every few
 * seconds, so it is no deed: no audit row tells of it, and it needs no key. The same fields sent
 * again change nothing. What comes from an older version is kept as a draft of its own beside the
 * newer one, since only its member can say which of the two is meant.
 */
export const keepDraft = (
  { db, memberId, now }: DraftKeeping,
  id: string,
  given: DraftInput,
): Promise<Result<KeptDraft>> =>
  db.$transaction(async (tx) => {
    // One after the other for each member, so that the count below holds.
    await lockMember(tx, memberId);
    const mine = await draftsOf(tx, memberId);
    const there = mine.find((one) => one.id === id);
    const typedAt = typedBy(given, now);
    const isSame = (one: DraftRead) => canonical(one.fields) === canonical(given.fields);
    if (there && isSame(there)) return ok(kept(there));
    if (there && there.version === given.version) {
      const version = there.version + 1;
      const data = { fields: given.fields, version, typedAt };
      await tx.entryDraft.update({ where: { id }, data });
      return ok(kept({ id, version, typedAt }));
    }
    if (!there && given.version > 0) return gone();
    const same = there && mine.find(isSame);
    if (same) return ok(kept(same, there));
    const added = { id: there ? v7() : id, version: 1, typedAt };
    const room = await roomFor(tx, added.id, given.saleId, mine.length);
    if (!room.ok) return room;
    const { form, saleId, fields } = given;
    await tx.entryDraft.create({ data: { ...added, memberId, form, saleId, fields } });
    return ok(kept(added, there));
  }, patience);

/** A device's clock may run ahead; nothing was typed later than now. */
const typedBy = ({ typedAt }: DraftInput, now: Date): Date =>
  typedAt === undefined || new Date(typedAt) > now ? now : new Date(typedAt);

type Row = Pick<DraftRead, "id" | "version" | "typedAt">;

const kept = ({ id, version, typedAt }: Row, other?: Row): KeptDraft => ({
  ...{ id, version, typedAt: typedAt.toISOString() },
  beside: other
    ? { id: other.id, typedAt: other.typedAt.toISOString(), newer: other.typedAt > typedAt }
    : null,
});

async function roomFor(
  tx: Transaction,
  id: string,
  saleId: string,
  count: number,
): Promise<Result<true>> {
  // Somebody else's draft answers like one that is gone.
  if (await tx.entryDraft.findUnique({ where: { id }, select: { id: true } })) return gone();
  if (!(await tx.sale.findUnique({ where: { id: saleId }, select: { id: true } })))
    return refuse("not-found", "There is no such sale. Nothing was kept.");
  if (count < mostDrafts) return ok(true);
  return refuse(
    "limit-reached",
    `You have ${mostDrafts} drafts, which is the most. Enter or discard some under My items, then keep this one.`,
  );
}

const gone = (): Result<never> =>
  refuse("not-found", "This draft is not there any more: it was entered or discarded.");

/** Throws a draft away. One that is gone already is as its member wants it. */
export const discardDraft = ({ db, memberId }: DraftKeeping, id: string): Promise<unknown> =>
  db.entryDraft.deleteMany({ where: { id, memberId } });
