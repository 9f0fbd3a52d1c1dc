import type { LetterKind, LetterState } from "../../rules/letters/kinds.ts";
import type { Database } from "../client.ts";
import { anywhere } from "../search.ts";

export interface LetterRow {
  id: string;
  saleId: string;
  memberNumber: number;
  memberName: string;
  kind: LetterKind;
  state: LetterState;
  tries: number;
  /** Why a letter failed, was skipped or has to wait, in our words. */
  lastError: string;
  note: string;
  createdAt: Date;
  nextAt: Date;
  endedAt: Date | null;
}

export interface LetterSearch {
  q?: string | undefined;
  kind?: LetterKind | undefined;
  state?: LetterState | undefined;
  /** The id of the last letter seen. */
  after?: string | undefined;
  limit: number;
}

/** The letters of a sale, the newest first, a page at a time. */
export async function listLetters(db: Database, saleId: string, search: LetterSearch) {
  const { q = "", kind = "", state = "", after = null, limit } = search;
  const number = /^\d{1,4}$/.test(q) ? Number(q) : 0;
  const rows = await db.$queryRaw<LetterRow[]>`
    SELECT l.id, l.sale_id AS "saleId", m.number AS "memberNumber", m.name AS "memberName", l.kind, l.state, l.tries,
      l.last_error AS "lastError", l.note, l.created_at AS "createdAt", l.next_at AS "nextAt", l.ended_at AS "endedAt"
    FROM member_mail l JOIN member m ON m.id = l.member_id
    WHERE l.sale_id = ${saleId}::uuid
      AND (${kind} = '' OR l.kind = ${kind}) AND (${state} = '' OR l.state = ${state})
      AND (${q} = '' OR m.number = ${number} OR m.name ILIKE ${anywhere(q)})
      AND (${after}::uuid IS NULL
        OR (l.created_at, l.id) < (SELECT created_at, id FROM member_mail WHERE id = ${after}::uuid))
    ORDER BY l.created_at DESC, l.id DESC LIMIT ${limit + 1}`;
  const items = rows.slice(0, limit);
  return { items, next: rows.length > limit ? (items.at(-1)?.id ?? null) : null };
}

/** One letter, or null. */
export async function findLetter(db: Database, id: string): Promise<LetterRow | null> {
  const row = await db.memberMail.findUnique({ where: { id }, include: { member: true } });
  if (!row) return null;
  const { member, kind, state, ...letter } = row;
  return {
    ...letter,
    kind: kind as LetterKind,
    state: state as LetterState,
    memberNumber: member.number,
    memberName: member.name,
  };
}

/** How many letters of a sale there are, by kind and state. */
export const countLetters = (db: Database, saleId: string) =>
  db.$queryRaw<{ kind: LetterKind; state: LetterState; count: number }[]>`
    SELECT kind, state, count(*)::integer AS count FROM member_mail
    WHERE sale_id = ${saleId}::uuid GROUP BY kind, state ORDER BY kind, state`;

export interface ToPhone {
  memberNumber: number;
  memberName: string;
  phone: string;
  /** How many pieces the member has in the sale. */
  pieces: number;
  why: "no-address" | "failed" | "returned";
}

/**
 * Whom no letter reaches: active members without an address, and those whose newest letter of the
 * sale failed or came back. By number; `after` is the last number seen.
 */
export async function listToPhone(
  db: Database,
  saleId: string,
  { q = "", after = 0, limit }: { q?: string | undefined; after?: number; limit: number },
) {
  const number = /^\d{1,4}$/.test(q) ? Number(q) : 0;
  const rows = await db.$queryRaw<ToPhone[]>`
    SELECT m.number AS "memberNumber", m.name AS "memberName", m.phone,
      (SELECT coalesce(sum(i.quantity), 0)::integer FROM item i
        WHERE i.member_id = m.id AND i.sale_id = ${saleId}::uuid AND i.withdrawn_at IS NULL) AS pieces,
      CASE WHEN m.email IS NULL THEN 'no-address' ELSE last.state END AS why
    FROM member m LEFT JOIN LATERAL (SELECT l.state FROM member_mail l
      WHERE l.member_id = m.id AND l.sale_id = ${saleId}::uuid AND l.state IN ('sent', 'failed', 'returned')
      ORDER BY l.ended_at DESC, l.id DESC LIMIT 1) last ON true
    WHERE m.number > ${after} AND m.status = 'active' AND (m.email IS NULL OR last.state IN ('failed', 'returned'))
      AND (${q} = '' OR m.number = ${number} OR m.name ILIKE ${anywhere(q)})
    ORDER BY m.number LIMIT ${limit + 1}`;
  const items = rows.slice(0, limit);
  return { items, next: rows.length > limit ? (items.at(-1)?.memberNumber ?? null) : null };
}

/** How many members no letter reaches because they have no address. */
export const countWithoutAddress = (db: Database) =>
  db.member.count({ where: { status: "active", email: null } });
