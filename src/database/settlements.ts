import type { Database } from "./client.ts";

export interface SettlementRow {
  id: string;
  saleId: string;
  saleName: string;
  number: number;
  gross: number;
  guildShare: number;
  net: number;
  at: Date;
  byName: string;
}

/** Settlements of a sale, or the one with this id, oldest first. */
export async function listSettlements(
  db: Database,
  which: { saleId: string } | { id: string },
): Promise<SettlementRow[]> {
  const rows = await db.settlement.findMany({
    where: which,
    include: { sale: true },
    orderBy: { number: "asc" },
  });
  const people = await db.member.findMany({ where: { id: { in: rows.map(({ byId }) => byId) } } });
  const names = new Map(people.map(({ id, name }) => [id, name]));
  return rows.map((row) => ({
    id: row.id,
    saleId: row.saleId,
    saleName: row.sale.name,
    number: row.number,
    gross: Number(row.gross),
    guildShare: Number(row.guildShare),
    net: Number(row.net),
    at: row.at,
    byName: names.get(row.byId) ?? "",
  }));
}

export interface StatementRow {
  id: string;
  number: number;
  memberId: string;
  memberNumber: number;
  memberName: string;
  gross: number;
  guildShare: number;
  net: number;
  /** `left` is what a statement does not pay: held for the next one, or owed to the guild. */
  due: number;
  left: number;
  paid: boolean;
}

export const paidFilters = ["all", "open", "paid"] as const;

export interface StatementList {
  q?: string | undefined;
  paid?: (typeof paidFilters)[number] | undefined;
  /** The last statement number of the page before. */
  after?: number | undefined;
  limit: number;
}

type Figure = "gross" | "guildShare" | "net" | "due" | "left";
type Row = Omit<StatementRow, Figure> & Record<Figure, bigint>;

/** Statements of a settlement by number, a page at a time; `next` names the last one of the page. */
export async function listStatements(
  db: Database,
  settlementId: string,
  { q = "", paid = "all", after = 0, limit }: StatementList,
): Promise<{ items: StatementRow[]; next: number | null }> {
  const words = q.replace(/[\p{Cc}\\%_]/gu, " ").trim();
  const rows = await db.$queryRaw<Row[]>`
    SELECT s.id, s.number, s.member_id AS "memberId", p.number AS "memberNumber",
      s.heading ->> 'memberName' AS "memberName", s.gross, s.guild_share AS "guildShare", s.net,
      s.due, s.net + s.carried - s.due AS left, paid.yes AS paid
    FROM statement s
    JOIN member p ON p.id = s.member_id
    CROSS JOIN LATERAL (SELECT EXISTS (SELECT 1 FROM payout o WHERE o.statement_id = s.id
      AND NOT EXISTS (SELECT 1 FROM payout_void v WHERE v.payout_id = o.id)) AS yes) paid
    WHERE s.settlement_id = ${settlementId}::uuid AND s.number > ${after}
      AND (${words} = '' OR p.number::text = ${words} OR s.number::text = ${words}
        OR s.heading ->> 'memberName' ILIKE '%' || ${words} || '%')
      AND (${paid} = 'all' OR (${paid} = 'paid' AND paid.yes) OR (${paid} = 'open' AND NOT paid.yes AND s.due > 0))
    ORDER BY s.number LIMIT ${limit + 1}`;
  const items = rows.slice(0, limit).map(inNumbers);
  return { items, next: rows.length > limit ? (items.at(-1)?.number ?? null) : null };
}

const inNumbers = (row: Row): StatementRow => ({
  ...row,
  gross: Number(row.gross),
  guildShare: Number(row.guildShare),
  net: Number(row.net),
  due: Number(row.due),
  left: Number(row.left),
});
