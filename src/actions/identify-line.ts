import type { Transaction } from "../database/client.ts";
import { writeEntry } from "../database/journal-writing.ts";
import { type Deed, perform } from "../database/perform.ts";
import { identifiedPostings } from "../rules/ledger-entries.ts";
import { moveOf } from "../rules/movement.ts";
import { ok, problem, type Result, refuse, refuseField } from "../rules/problem.ts";

export interface Identification {
  lineId: string;
  /** Null when the money is the guild's own. */
  memberId: string | null;
  /** The piece, when its tag is known: it moves as the line says. */
  itemId: string | null;
  reason: string;
}

/** What a suspended line is called when it is told. */
export interface Identified {
  lineId: string;
  amount: number;
}

/**
 * Says whose a suspended line is. Its money leaves suspense and, when the piece is known, the
 * piece moves. The receipt itself stays as it was recorded.
 */
export const identifyLine = (deed: Deed, input: Identification): Promise<Result<Identified>> =>
  perform(
    deed,
    "identify-line",
    input,
    async (tx) => {
      const line = await holdLine(tx, input.lineId);
      if (!line) return refuse("not-found", "There is no such line in suspense.");
      const wrong = await checkOwner(tx, input, line);
      if (!wrong.ok) return wrong;
      const { lineId, memberId, itemId, reason } = input;
      const byId = deed.actor.id;
      if (itemId) await movePiece(tx, { ...line, itemId, lineId, byId });
      await tx.identified.create({ data: { lineId, memberId, itemId, reason, byId } });
      await writeEntry(tx, {
        kind: "identified",
        description: `Out of suspense: ${line.description}`,
        saleId: line.saleId,
        subjectId: lineId,
        byId,
        postings: identifiedPostings(line.amount, memberId),
      });
      const value = { lineId, amount: line.amount };
      return ok({ value, subjectId: lineId, detail: { ...input } });
    },
    refusals,
  );

interface SuspendedLine {
  saleId: string;
  description: string;
  quantity: number;
  amount: number;
  itemId: string | null;
}

/** Held, so that two people cannot give one line to two members. */
async function holdLine(tx: Transaction, lineId: string): Promise<SuspendedLine | undefined> {
  const rows = await tx.$queryRaw<(Omit<SuspendedLine, "amount"> & { amount: bigint })[]>`
    SELECT r.sale_id AS "saleId", l.description, l.quantity, l.amount, l.item_id AS "itemId"
    FROM receipt_line l JOIN receipt r ON r.id = l.receipt_id
    WHERE l.id = ${lineId}::uuid AND l.suspended FOR UPDATE OF l`;
  return rows[0] && { ...rows[0], amount: Number(rows[0].amount) };
}

async function checkOwner(
  tx: Transaction,
  { memberId, itemId }: Identification,
  { saleId }: SuspendedLine,
): Promise<Result<null>> {
  if (memberId && !(await tx.member.findUnique({ where: { id: memberId } })))
    return refuseField("member", "Nobody in the guild has this number.");
  if (!itemId) return ok(null);
  const item = await tx.item.findFirst({ where: { id: itemId, saleId } });
  if (!item) return refuseField("tag", "No piece of this sale has this tag number.");
  if (item.donated ? memberId !== null : item.memberId !== memberId)
    return refuseField("tag", "This piece belongs to somebody else.");
  return ok(null);
}

async function movePiece(
  tx: Transaction,
  piece: { itemId: string; lineId: string; quantity: number; byId: string },
): Promise<void> {
  const { itemId, lineId, quantity, byId } = piece;
  const { kind, fromPlace, toPlace } = moveOf(quantity > 0 ? "sold" : "returned");
  await tx.movement.create({
    data: {
      itemId,
      kind,
      fromPlace,
      toPlace,
      quantity: Math.abs(quantity),
      receiptLineId: lineId,
      byId,
    },
  });
}

const refusals = {
  identified_pkey: () => problem("already-done", "Somebody has said already whose this is."),
  journal_entry_kind_subject_id_key: () =>
    problem("already-done", "Somebody has said already whose this is."),
  count_on_floor: () =>
    problem(
      "not-on-floor",
      "This piece is not on the floor any more, so it cannot be the one that was sold. Choose the member without the piece, or another piece.",
    ),
  count_with_buyer: () =>
    problem("not-on-floor", "This piece is not with a buyer, so it cannot have come back."),
};
