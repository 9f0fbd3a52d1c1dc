import type { Fibre } from "../../rules/fibre.ts";
import { type Minor, share } from "../../rules/money.ts";
import type { Transaction } from "../client.ts";
import { anywhere } from "../search.ts";

/** A sale elsewhere by its member's own account. */
export interface ElsewhereRead {
  id: string;
  day: string;
  outlet: string;
  itemId: string | null;
  kind: string;
  kindName: string;
  description: string;
  colours: string;
  fibres: Fibre[];
  quantity: number;
  /** For one. */
  price: Minor;
  /** A percentage in thousandths, or an amount for all together; both null when nothing was kept. */
  keptRate: number | null;
  keptAmount: Minor | null;
  /** What that comes to, and what is left. */
  kept: Minor;
  left: Minor;
  minutes: number | null;
  materials: Minor | null;
  takenBack: boolean;
  version: number;
}

type Row = Omit<ElsewhereRead, "day" | "price" | "keptAmount" | "kept" | "left" | "materials"> & {
  day: Date;
  price: bigint;
  keptAmount: bigint | null;
  materials: bigint | null;
};

export interface ElsewhereSearch {
  q?: string | undefined;
  /** The id of the last one seen. */
  after?: string | undefined;
  limit?: number | undefined;
}

/**
 * A member's sales elsewhere, the latest first. Those taken back are among them: they stay to be
 * seen, and count for nothing.
 */
export async function listElsewhere(
  db: Transaction,
  memberId: string,
  { q = "", after, limit = 1_000_000 }: ElsewhereSearch = {},
): Promise<{ items: ElsewhereRead[]; next: string | null }> {
  const last = after ?? null;
  const rows = await read(db, memberId, q, last, limit + 1);
  const items = rows.slice(0, limit).map(shown);
  return { items, next: rows.length > limit ? (items.at(-1)?.id ?? null) : null };
}

const read = (db: Transaction, memberId: string, q: string, last: string | null, limit: number) =>
  db.$queryRaw<Row[]>`
    SELECT e.id, e.day, e.outlet, e.item_id AS "itemId", k.code AS kind, k.name AS "kindName", e.description,
      e.colours, e.fibres, e.quantity, e.price, e.kept_rate AS "keptRate", e.kept_amount AS "keptAmount",
      e.minutes, e.materials, e.taken_back_at IS NOT NULL AS "takenBack", e.version
    FROM elsewhere_sale e JOIN kind k ON k.id = e.kind_id
    WHERE e.member_id = ${memberId}::uuid
      AND (${q} = '' OR e.outlet ILIKE ${anywhere(q)} OR e.description ILIKE ${anywhere(q)}
        OR e.colours ILIKE ${anywhere(q)} OR k.name ILIKE ${anywhere(q)})
      AND (${last}::uuid IS NULL OR (e.day, e.id) < (SELECT o.day, o.id FROM elsewhere_sale o
        WHERE o.id = ${last}::uuid AND o.member_id = ${memberId}::uuid))
    ORDER BY e.day DESC, e.id DESC LIMIT ${limit}`;

/** One of a member's own; anybody else's is not there. */
export async function findElsewhere(
  db: Transaction,
  which: { id: string; memberId: string },
): Promise<ElsewhereRead | undefined> {
  const row = await db.elsewhereSale.findFirst({ where: which, include: { kind: true } });
  if (!row) return undefined;
  const { kind, memberId: _own, kindId: _code, createdAt: _when, takenBackAt, ...rest } = row;
  return shown({
    ...rest,
    ...{ kind: kind.code, kindName: kind.name, takenBack: takenBackAt !== null },
    fibres: rest.fibres as unknown as Fibre[],
  });
}

function shown({ day, price, keptAmount, materials, ...row }: Row): ElsewhereRead {
  const all = Number(price) * row.quantity;
  const kept = row.keptRate === null ? Number(keptAmount ?? 0n) : share(all, row.keptRate);
  return {
    ...row,
    ...{ day: day.toISOString().slice(0, 10), price: Number(price), kept, left: all - kept },
    keptAmount: keptAmount === null ? null : Number(keptAmount),
    materials: materials === null ? null : Number(materials),
  };
}

/** The outlets that a member has named, those of late first. */
export async function outletsOf(db: Transaction, memberId: string): Promise<string[]> {
  const rows = await db.$queryRaw<{ outlet: string }[]>`
    SELECT outlet FROM elsewhere_sale WHERE member_id = ${memberId}::uuid
    GROUP BY outlet ORDER BY max(day) DESC, outlet LIMIT 50`;
  return rows.map(({ outlet }) => outlet);
}
