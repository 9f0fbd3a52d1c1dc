import type { Database } from "./client.ts";
import { type ReceiptRead, readReceipt } from "./receipts.ts";

/** A sale's receipt by the number on its paper; undefined when this sale has none. */
export async function receiptForTill(
  db: Database,
  saleId: string,
  { tillNumber, number }: { tillNumber: number; number: number },
) {
  const row = await db.receipt.findFirst({
    where: { saleId, number, till: { number: tillNumber } },
    select: { id: true, madeAt: true, cashierId: true, exchangeId: true },
  });
  const receipt = row && (await readReceipt(db, row.id));
  if (!receipt) return undefined;
  const members = await db.member.findMany({
    where: { id: { in: receipt.lines.flatMap(({ memberId }) => (memberId ? [memberId] : [])) } },
    select: { id: true, number: true },
  });
  const numberOf = new Map(members.map(({ id, number: one }) => [id, one]));
  return {
    name: receipt.name,
    fact: factOf(receipt, { ...row, madeAt: row.madeAt.toISOString() }, numberOf),
    returned: Object.fromEntries(receipt.lines.map(({ id, returned }) => [id, returned])),
  };
}

/** The receipt in the words that a till itself would have sent. */
function factOf(
  receipt: ReceiptRead,
  row: { madeAt: string; cashierId: string; exchangeId: string | null },
  numberOf: ReadonlyMap<string, number>,
) {
  const { id, number, kind, reason, exemption, tenders, tillSessionId } = receipt;
  const { subtotal, tax, total, rounding, cashGiven, change } = receipt;
  return {
    ...{ id, number, kind, reason, exemption, tenders, tillSessionId },
    ...{ subtotal, tax, total, rounding, cashGiven, change },
    madeAt: row.madeAt,
    cashierId: row.cashierId,
    exchangeId: row.exchangeId,
    reversesId: receipt.reverses?.id ?? null,
    taxes: receipt.taxes.map(({ left: _left, baseLeft: _base, ...component }) => component),
    lines: receipt.lines.map((line) => {
      const { position: _position, itemId: _item, memberId, suspended: _suspended, ...rest } = line;
      const { returned: _returned, ...figures } = rest;
      return {
        ...figures,
        memberNumber: memberId === null ? null : (numberOf.get(memberId) ?? null),
        ...{ reversesLineId: null, goesTo: null },
      };
    }),
  };
}
