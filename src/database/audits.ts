import type { Database } from "./client.ts";
import { anywhere, literal } from "./search.ts";

export interface AuditRead {
  /** A running number as text, since it may outgrow what JSON numbers hold. */
  id: string;
  deed: string;
  subjectId: string;
  detail: Record<string, unknown>;
  by: { number: number; name: string } | null;
  at: string;
}

interface Row {
  id: bigint;
  deed: string;
  subjectId: string;
  detail: Record<string, unknown>;
  number: number | null;
  name: string | null;
  at: Date;
}

/** Who did what, the newest first; finds names, member numbers, deeds and ids. */
export async function listAudits(
  db: Database,
  { q = "", after, limit }: { q?: string | undefined; after?: string | undefined; limit: number },
): Promise<{ items: AuditRead[]; next: string | null }> {
  const before = after && /^\d{1,18}$/.test(after) ? BigInt(after) : null;
  const named = anywhere(q);
  const deed = `%${literal(q).replaceAll(" ", "-")}%`;
  const rows = await db.$queryRaw<Row[]>`
    SELECT a.id, a.deed, a.subject_id AS "subjectId", a.detail, a.at, m.number, m.name
    FROM audit a LEFT JOIN member m ON m.id = a.by_id
    WHERE (${before}::bigint IS NULL OR a.id < ${before}::bigint)
      AND (${q} = '' OR a.deed ILIKE ${deed} OR m.name ILIKE ${named}
        OR m.number::text = ${q} OR a.subject_id = ${q})
    ORDER BY a.id DESC LIMIT ${limit + 1}`;
  const items = rows.slice(0, limit).map(read);
  return { items, next: rows.length > limit ? (items.at(-1)?.id ?? null) : null };
}

const read = ({ id, number, name, at, ...row }: Row): AuditRead => ({
  ...row,
  id: id.toString(),
  by: number === null || name === null ? null : { number, name },
  at: at.toISOString(),
});
