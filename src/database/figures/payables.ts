import type { Payable } from "../../rules/paying/unclaimed.ts";
import type { Transaction } from "../client.ts";

/** Money that waits for a member: a statement to be paid, or a small sum held for the next one. */
export interface OpenPayable extends Payable {
  kind: "due" | "held";
  memberNumber: number;
  memberName: string;
  statementId: string;
  statementNumber: number;
}

/** What a member owes the guild, carried to the next settlement. */
export interface OwedByMember {
  memberNumber: number;
  memberName: string;
  amount: number;
  owedSince: string;
  statementId: string;
  statementNumber: number;
}

export interface Payables {
  payables: OpenPayable[];
  owing: OwedByMember[];
  /** Sold for members, or adjusted, and not settled yet: the guild's share is still in it. */
  notSettled: number;
  /** What all members' accounts hold by the ledger. */
  booked: number;
  agrees: boolean;
}

export async function payablesOf(db: Transaction): Promise<Payables> {
  const due = await dueOf(db);
  const left = await leftOver(db);
  const held = left.flatMap((one) => (one.amount > 0 ? [one] : []));
  const owing = left.flatMap(({ amount, ...one }) =>
    amount < 0 ? [{ ...one, amount: 0 - amount }] : [],
  );
  const payables = [...due, ...held.map((one) => ({ ...one, kind: "held" as const }))];
  const [row] = await db.$queryRaw<[{ open: bigint; booked: bigint }]>`
    SELECT (SELECT coalesce(sum(l.amount), 0) FROM credited_line l LEFT JOIN statement_line t ON t.receipt_line_id = l.id
        WHERE NOT l.donated AND t.receipt_line_id IS NULL)::bigint
        + (SELECT coalesce(sum(a.amount), 0) FROM adjustment a
          WHERE NOT EXISTS (SELECT 1 FROM statement_item i WHERE i.adjustment_id = a.id))::bigint AS open,
      (SELECT coalesce(-sum(amount), 0) FROM posting WHERE account_key LIKE 'member/%')::bigint AS booked`;
  const notSettled = Number(row.open);
  const booked = Number(row.booked);
  const agrees = sum(payables) - sum(owing) + notSettled === booked;
  return { payables, owing, notSettled, booked, agrees };
}

const sum = (rows: readonly { amount: number }[]): number =>
  rows.reduce((all, { amount }) => all + amount, 0);

interface Row {
  memberId: string;
  memberNumber: number;
  memberName: string;
  statementId: string;
  statementNumber: number;
  at: Date;
  amount: bigint;
}

async function dueOf(db: Transaction): Promise<OpenPayable[]> {
  const rows = await db.$queryRaw<Row[]>`
    SELECT s.member_id AS "memberId", m.number AS "memberNumber", m.name AS "memberName", s.id AS "statementId",
      s.number AS "statementNumber", e.at, s.due AS amount
    FROM statement s JOIN settlement e ON e.id = s.settlement_id JOIN member m ON m.id = s.member_id
    WHERE s.due > 0 AND NOT EXISTS (SELECT 1 FROM payout p WHERE p.statement_id = s.id
      AND NOT EXISTS (SELECT 1 FROM payout_void v WHERE v.payout_id = p.id))
    ORDER BY s.number`;
  return rows.map(({ at, amount, ...row }) => ({
    ...{ ...row, kind: "due", amount: Number(amount), owedSince: at.toISOString(), reminded: [] },
  }));
}

type Left = Omit<OpenPayable, "kind">;

/**
 * What each member's statements left neither paid nor to be paid. Net and what is due differ by it
 * over all statements of a member, however often it was carried on. It is as old as the statement
 * since which it has been on the same side.
 */
async function leftOver(db: Transaction): Promise<Left[]> {
  const rows = await db.$queryRaw<Row[]>`
    SELECT s.member_id AS "memberId", m.number AS "memberNumber", m.name AS "memberName", s.id AS "statementId",
      s.number AS "statementNumber", e.at, s.net - s.due AS amount
    FROM statement s JOIN settlement e ON e.id = s.settlement_id JOIN member m ON m.id = s.member_id
    WHERE s.member_id IN (SELECT member_id FROM statement GROUP BY member_id HAVING sum(net) <> sum(due))
    ORDER BY m.number, s.number`;
  const left = new Map<string, Left>();
  for (const { at, amount, ...row } of rows) {
    const before = left.get(row.memberId);
    const now = (before?.amount ?? 0) + Number(amount);
    const goesOn = before !== undefined && Math.sign(before.amount) === Math.sign(now);
    const owedSince = goesOn ? before.owedSince : at.toISOString();
    left.set(row.memberId, { ...row, amount: now, owedSince, reminded: [] });
  }
  return [...left.values()];
}
