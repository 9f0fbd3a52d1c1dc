import { v7 } from "uuid";
import type { Database } from "../../src/database/client.ts";
import { writeEntry } from "../../src/database/journal-writing.ts";
import { adjustmentPostings } from "../../src/rules/ledger-entries.ts";
import { type MoveKind, moveOf } from "../../src/rules/movement.ts";
import { firstPolicy, type Policy } from "../../src/rules/policy/policy.ts";
import { type BuiltPiece, receiptFor } from "./build-till.ts";

const first = firstPolicy(20_000);

/** What changes of the first policy: whole parts, or only some of a part's figures. */
export type PolicyChange = { [Part in keyof Policy]?: Partial<Policy[Part]> };

export const policyWith = (change: PolicyChange): Policy => ({
  rates: { ...first.rates, ...change.rates },
  rounding: { ...first.rounding, ...change.rounding },
  fees: { ...first.fees, ...change.fees },
  cardFee: { ...first.cardFee, ...change.cardFee },
  loss: (change.loss ?? first.loss) as Policy["loss"],
  payout: { ...first.payout, ...change.payout },
});

/** The next version of a sale's policy, as a row. */
export async function decide(db: Database, sale: { id: string }, change: PolicyChange) {
  const version = (await db.salePolicy.count({ where: { saleId: sale.id } })) + 1;
  const policy = policyWith(change) as object;
  await db.salePolicy.create({ data: { saleId: sale.id, version, policy, reason: "Agreed" } });
}

type Who = { id: string };

/** A shift of three hours, ticked as worked for so many minutes, or as missed with none. */
export async function buildShift(db: Database, sale: Who, member: Who, minutesWorked: number) {
  const marked = { markedById: member.id, markedAt: new Date(), byId: member.id };
  const mark =
    minutesWorked > 0 ? { mark: "worked", minutesWorked } : { mark: "missed", minutesWorked: null };
  const when = { startsAt: new Date("2026-11-27T14:00:00Z"), minutes: 180 };
  return db.shift.create({
    data: { id: v7(), saleId: sale.id, memberId: member.id, ...when, ...mark, ...marked },
  });
}

/** An adjustment with its entry, as rows. */
export async function buildAdjustment(
  db: Database,
  sale: Who,
  member: Who,
  amount: number,
  reason = "Torn on the rack",
) {
  const id = v7();
  const about = { saleId: sale.id, byId: member.id };
  await db.$transaction(async (tx) => {
    await tx.adjustment.create({
      data: { id, memberId: member.id, amount: BigInt(amount), reason, ...about },
    });
    await writeEntry(tx, {
      ...{ kind: "adjustment", description: reason, subjectId: id, ...about },
      postings: adjustmentPostings(member.id, amount),
    });
    await tx.audit.create({
      data: { deed: "adjust", subjectId: id, detail: {}, byId: member.id, requestId: "test" },
    });
  });
  return id;
}

/** Moves one piece by name: "lost", "found". */
export const movePiece = (db: Database, piece: Who, kind: MoveKind, byId: string, quantity = 1) =>
  db.movement.create({ data: { itemId: piece.id, ...moveOf(kind), quantity, byId } });

/** What a till sends when a card pays a receipt whole. */
export function byCard(
  till: Who,
  pieces: readonly (BuiltPiece | { piece: BuiltPiece; quantity?: number })[],
) {
  const { total } = receiptFor(till, pieces);
  return { tenders: [{ kind: "card" as const, amount: total }] };
}
