import { type MailState, mailStates } from "../rules/mail-state.ts";
import type { Database } from "./client.ts";

export interface StatementMailRow {
  statementId: string;
  number: number;
  memberId: string;
  memberNumber: number;
  memberName: string;
  /** The member's address now; a message goes to the one at the moment of sending. */
  address: string | null;
  state: MailState;
  /** How many messages there were for this statement; 0 when none. */
  attempt: number;
  tries: number;
  /** Why a message failed or has to wait, in our words. */
  lastError: string;
  note: string;
  nextAt: Date | null;
  endedAt: Date | null;
}

export interface StatementMailList {
  q?: string | undefined;
  state?: MailState | "all" | undefined;
  /** The last statement number of the page before. */
  after?: number | undefined;
  limit: number;
}

/** The statements of a settlement with their newest message, by number, a page at a time. */
export async function listStatementMails(
  db: Database,
  settlementId: string,
  { q = "", state = "all", after = 0, limit }: StatementMailList,
): Promise<{ items: StatementMailRow[]; next: number | null }> {
  const words = q.replace(/[\p{Cc}\\%_]/gu, " ").trim();
  const rows = await db.$queryRaw<StatementMailRow[]>`
    SELECT * FROM (
      SELECT s.id AS "statementId", s.number, s.member_id AS "memberId", p.number AS "memberNumber",
        s.heading ->> 'memberName' AS "memberName", p.email AS address,
        coalesce(last.state, CASE WHEN p.email IS NULL THEN 'no-address' ELSE 'unsent' END) AS state,
        coalesce(last.attempt, 0) AS attempt, coalesce(last.tries, 0) AS tries,
        coalesce(last.last_error, '') AS "lastError", coalesce(last.note, '') AS note,
        last.next_at AS "nextAt", last.ended_at AS "endedAt"
      FROM statement s
      JOIN member p ON p.id = s.member_id
      LEFT JOIN LATERAL (SELECT m.* FROM statement_mail m WHERE m.statement_id = s.id
        ORDER BY m.attempt DESC LIMIT 1) last ON true
      WHERE s.settlement_id = ${settlementId}::uuid AND s.number > ${after}) one
    WHERE (${state} = 'all' OR one.state = ${state})
      AND (${words} = '' OR one."memberNumber"::text = ${words} OR one.number::text = ${words}
        OR one."memberName" ILIKE '%' || ${words} || '%')
    ORDER BY one.number LIMIT ${limit + 1}`;
  const items = rows.slice(0, limit);
  return { items, next: rows.length > limit ? (items.at(-1)?.number ?? null) : null };
}

export type MailCounts = Record<MailState, number> & {
  /** Those among the waiting that no try was made for yet. */
  untried: number;
  /** Failed ones whose member has an address now. */
  retriable: number;
};

/** How many statements of a settlement are at each state. */
export async function countStatementMails(db: Database, settlementId: string): Promise<MailCounts> {
  const rows = await db.$queryRaw<
    { state: MailState; count: number; untried: number; retriable: number }[]
  >`
    SELECT coalesce(last.state, CASE WHEN p.email IS NULL THEN 'no-address' ELSE 'unsent' END) AS state,
      count(*)::integer AS count,
      count(*) FILTER (WHERE last.state = 'waiting' AND last.last_error = '')::integer AS untried,
      count(*) FILTER (WHERE last.state = 'failed' AND p.email IS NOT NULL)::integer AS retriable
    FROM statement s
    JOIN member p ON p.id = s.member_id
    LEFT JOIN LATERAL (SELECT m.state, m.last_error FROM statement_mail m WHERE m.statement_id = s.id
      ORDER BY m.attempt DESC LIMIT 1) last ON true
    WHERE s.settlement_id = ${settlementId}::uuid
    GROUP BY 1`;
  const of = (state: MailState) => rows.find((row) => row.state === state)?.count ?? 0;
  const counts = Object.fromEntries(mailStates.map((state) => [state, of(state)]));
  const sum = (figure: "untried" | "retriable") => rows.reduce((all, row) => all + row[figure], 0);
  return {
    ...(counts as Record<MailState, number>),
    ...{ untried: sum("untried"), retriable: sum("retriable") },
  };
}

/** Every message for a statement, the newest first. */
export const mailsOfStatement = (db: Database, statementId: string) =>
  db.statementMail.findMany({ where: { statementId }, orderBy: { attempt: "desc" } });
