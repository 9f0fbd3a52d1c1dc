import { balanceOf } from "../database/balance.ts";
import type { Transaction } from "../database/client.ts";
import { drawerCounts } from "../database/drawer-counts.ts";
import { writeEntry } from "../database/journal-writing.ts";
import { formatMoney } from "../rules/currency.ts";
import type { CashCount } from "../rules/denominations.ts";
import { drawer } from "../rules/ledger.ts";
import { cashUpPostings } from "../rules/ledger-entries.ts";
import type { OpenSession } from "./write-cash-move.ts";

export interface CashedUp {
  sessionId: string;
  expected: number;
  counted: number;
  /** Counted less expected: below zero when cash is missing. */
  difference: number;
}

interface FinalCount {
  counted: number;
  counts: readonly CashCount[];
  witness: string;
  note: string;
  /** Whose count it is, also when somebody else closes the till with it. */
  byId: string;
}

/** Writes the cash-up of a held session with its entry, and closes it. */
export async function closeSession(
  tx: Transaction,
  session: OpenSession,
  final: FinalCount,
): Promise<CashedUp> {
  const { id, tillId, saleId, number } = session;
  const { counted, counts, witness, byId } = final;
  const expected = await balanceOf(tx, drawer(tillId));
  const value = { sessionId: id, expected, counted, difference: counted - expected };
  await tx.cashUp.create({
    data: {
      tillSessionId: id,
      expected: BigInt(expected),
      counted: BigInt(counted),
      difference: BigInt(value.difference),
      counts: counts.map((one) => ({ ...one })),
      witness,
      note: [final.note, ...(await otherCounts(tx, id, final))].filter(Boolean).join("\n"),
      byId,
    },
  });
  await tx.tillSession.update({ where: { id }, data: { closedAt: new Date() } });
  await writeEntry(tx, {
    kind: "cash-up",
    description: `Cash-up of till ${number}`,
    saleId,
    subjectId: id,
    byId,
    postings: cashUpPostings({ expected, counted }, tillId),
  });
  return value;
}

/** A line for each count before the last one, so that nobody counts until it fits unseen. */
async function otherCounts(tx: Transaction, sessionId: string, final: FinalCount) {
  const earlier = (await drawerCounts(tx, sessionId)).filter(
    ({ counted, note }) => counted !== final.counted || note !== final.note,
  );
  if (earlier.length === 0) return [];
  const { currency, locale } = await tx.guild.findFirstOrThrow();
  return earlier.map(({ counted, by, witness, note }) => {
    const words = note && note !== final.note ? ` Note: ${note}` : "";
    return `Counted before: ${formatMoney(counted, currency, locale)}, by ${by} and ${witness}.${words}`;
  });
}
