import type { Fibre } from "../rules/fibre.ts";
import { type LabelDetails, wholeDetails } from "../rules/labels/details.ts";
import type { Transaction } from "./client.ts";
import { literal } from "./search.ts";

/** What a member makes again and again: an entry to start from. */
export interface UsualPiece {
  id: string;
  name: string;
  kind: string;
  kindName: string;
  description: string;
  technique: string;
  fibres: Fibre[];
  size: string;
  label: LabelDetails;
  price: number;
  piecesInSet: number;
  version: number;
  putAwayAt: string | null;
}

export interface UsualFilter {
  memberId: string;
  q: string;
  /** Those that were put away, or those in use. */
  away: boolean;
}

const whole = { kind: { select: { code: true, name: true } } } as const;

/** By name; `after` is the id of the last one of the page before. */
export async function listUsual(
  db: Transaction,
  { memberId, q, away }: UsualFilter,
  page: { after?: string | undefined; limit: number },
) {
  const words = q
    .replace(/\p{Cc}/gu, " ")
    .split(/\s+/)
    .filter(Boolean)
    .map((word) => ({ contains: literal(word), mode: "insensitive" as const }));
  const last = page.after
    ? await db.usualPiece.findFirst({ where: { id: page.after, memberId } })
    : null;
  const rows = await db.usualPiece.findMany({
    where: {
      memberId,
      putAwayAt: away ? { not: null } : null,
      AND: [
        ...words.map((contains) => ({
          OR: [{ name: contains }, { description: contains }, { kind: { name: contains } }],
        })),
        last ? { OR: [{ name: { gt: last.name } }, { name: last.name, id: { gt: last.id } }] } : {},
      ],
    },
    include: whole,
    orderBy: [{ name: "asc" }, { id: "asc" }],
    take: page.limit + 1,
  });
  const items = rows.slice(0, page.limit).map(shown);
  return { items, next: rows.length > page.limit ? (items.at(-1)?.id ?? null) : null };
}

/** Another member's answers like an unknown one. */
export async function findUsual(
  db: Transaction,
  memberId: string,
  id: string,
): Promise<UsualPiece | undefined> {
  const row = await db.usualPiece.findFirst({ where: { id, memberId }, include: whole });
  return row ? shown(row) : undefined;
}

type Row = Awaited<ReturnType<typeof readOne>>;
const readOne = (db: Transaction) => db.usualPiece.findFirstOrThrow({ include: whole });

const shown = (row: Row): UsualPiece => ({
  id: row.id,
  name: row.name,
  kind: row.kind.code,
  kindName: row.kind.name,
  description: row.description,
  technique: row.technique,
  fibres: row.fibres as unknown as Fibre[],
  size: row.size,
  label: wholeDetails(row.labelDetails as object),
  price: Number(row.price),
  piecesInSet: row.piecesInSet,
  version: row.version,
  putAwayAt: row.putAwayAt?.toISOString() ?? null,
});
