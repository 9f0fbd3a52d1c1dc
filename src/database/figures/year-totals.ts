import { instantOf } from "../../rules/zoned-time.ts";
import type { Transaction } from "../client.ts";
import { Prisma } from "../generated/client.ts";
import { anywhere } from "../search.ts";

/** A member's calendar year by the books, in smallest coins. */
export interface MemberYear {
  memberId: string;
  number: number;
  name: string;
  sold: number;
  guildShare: number;
  /** Fees, and the member's part of the fee for cards. */
  fees: number;
  /** Adjustments and pieces made good: above zero for the member. */
  others: number;
  paid: number;
}

interface Wanted {
  q?: string | undefined;
  /** The last member number of the page before. */
  after?: number | undefined;
  /** Left out, everybody. */
  limit?: number;
}

/** The moments at which a calendar year begins and ends where the guild's clocks are. */
export function yearSpan(year: number, zone: string): { from: Date; to: Date } {
  const start = (of: number): Date => {
    const instant = instantOf(`${String(of).padStart(4, "0")}-01-01T00:00`, zone);
    if (!instant) throw new RangeError(`Not a year: ${of}`);
    return new Date(instant);
  };
  return { from: start(year), to: start(year + 1) };
}

/** What was posted between two moments: share, fees and losses by the statements, the rest by the ledger. */
const moved = (from: Date, to: Date) => Prisma.sql`
  SELECT substr(p.account_key, 8)::uuid AS member_id,
    coalesce(-sum(p.amount) FILTER (WHERE e.kind IN ('receipt', 'identified')), 0) AS sold, 0 AS share, 0 AS fees,
    coalesce(-sum(p.amount) FILTER (WHERE e.kind = 'adjustment'), 0) AS others,
    coalesce(sum(p.amount) FILTER (WHERE e.kind IN ('payout', 'payout-void')), 0) AS paid
  FROM posting p JOIN journal_entry e ON e.id = p.entry_id
  WHERE p.account_key LIKE 'member/%' AND e.at >= ${from} AND e.at < ${to} GROUP BY p.account_key
  UNION ALL SELECT s.member_id, 0, s.guild_share, s.fees + s.card_fee, s.losses, 0
  FROM statement s JOIN settlement e ON e.id = s.settlement_id WHERE e.at >= ${from} AND e.at < ${to}`;

type Sums = Record<"sold" | "guildShare" | "fees" | "others" | "paid", bigint>;

const sums = Prisma.sql`sum(v.sold)::bigint AS sold, sum(v.share)::bigint AS "guildShare", sum(v.fees)::bigint AS fees,
  sum(v.others)::bigint AS others, sum(v.paid)::bigint AS paid`;

const inNumbers = ({ sold, guildShare, fees, others, paid }: Sums) => ({
  sold: Number(sold),
  guildShare: Number(guildShare),
  fees: Number(fees),
  others: Number(others),
  paid: Number(paid),
});

/** Members for whom anything was posted in a year, by number. */
export async function memberYears(
  db: Transaction,
  { from, to }: { from: Date; to: Date },
  { q = "", after = 0, limit }: Wanted,
): Promise<{ items: MemberYear[]; next: string | null }> {
  const cut = limit === undefined ? Prisma.empty : Prisma.sql`LIMIT ${limit + 1}`;
  const rows = await db.$queryRaw<({ memberId: string; number: number; name: string } & Sums)[]>`
    SELECT m.id AS "memberId", m.number, m.name, ${sums} FROM (${moved(from, to)}) v JOIN member m ON m.id = v.member_id
    WHERE m.number > ${after} AND (${q} = '' OR m.name ILIKE ${anywhere(q)} OR m.number::text = ${q})
    GROUP BY m.id ORDER BY m.number ${cut}`;
  const items = rows.slice(0, limit).map(({ memberId, number, name, ...row }) => ({
    ...{ memberId, number, name },
    ...inNumbers(row),
  }));
  const more = limit !== undefined && rows.length > limit;
  return { items, next: more ? String(items.at(-1)?.number) : null };
}

/** The same of everybody together, and what the members' accounts moved by in that year. */
export async function yearSums(db: Transaction, { from, to }: { from: Date; to: Date }) {
  const [row] = await db.$queryRaw<[Sums]>`
    SELECT ${sums} FROM (SELECT 0 AS sold, 0 AS share, 0 AS fees, 0 AS others, 0 AS paid UNION ALL
      SELECT sold, share, fees, others, paid FROM (${moved(from, to)}) m) v`;
  const [booked] = await db.$queryRaw<[{ amount: bigint }]>`
    SELECT coalesce(-sum(p.amount), 0)::bigint AS amount FROM posting p JOIN journal_entry e ON e.id = p.entry_id
    WHERE p.account_key LIKE 'member/%' AND e.at >= ${from} AND e.at < ${to}`;
  const all = inNumbers(row);
  const moves = all.sold - all.guildShare - all.fees + all.others - all.paid;
  return { ...all, booked: Number(booked.amount), agrees: moves === Number(booked.amount) };
}
