import { showTag } from "../rules/tag-number.ts";
import { cameHome } from "./came-home.ts";
import type { Transaction } from "./client.ts";
import { itemWords, type Page } from "./items.ts";

/** A piece of an earlier sale that came home, as a member may bring it again. */
export interface UnsoldPiece {
  id: string;
  tag: string;
  shownTag: string;
  saleId: string;
  saleName: string;
  kindName: string;
  description: string;
  size: string;
  colours: string;
  price: number;
  /** How many of it are at home. */
  atHome: number;
  piecesInSet: number;
  /** The tag under which it is entered again for the sale in question. */
  again: { id: string; tag: string; shownTag: string } | null;
}

const read = (saleId: string) =>
  ({
    sale: { select: { name: true } },
    kind: { select: { name: true } },
    count: { select: { withMember: true } },
    enteredAgain: {
      where: { item: { saleId, withdrawnAt: null } },
      select: { item: { select: { id: true, tag: true } } },
      take: 1,
    },
  }) as const;

/**
 * A member's pieces of other sales that came home. One that was brought to yet another sale since
 * then came home from there, and stands in the list under that tag alone.
 */
export const unsoldOf = (memberId: string, saleId: string) => ({
  ...cameHome,
  memberId,
  saleId: { not: saleId },
  enteredAgain: { none: { item: { saleId: { not: saleId }, withdrawnAt: null } } },
});

/** The newest tags first, since those came home last. */
export async function listUnsold(
  db: Transaction,
  { memberId, saleId, q }: { memberId: string; saleId: string; q: string },
  page: Page,
) {
  const rows = await db.item.findMany({
    where: {
      ...unsoldOf(memberId, saleId),
      AND: [...itemWords(q), page.after ? { tag: { lt: page.after } } : {}],
    },
    include: read(saleId),
    orderBy: { tag: "desc" },
    take: page.limit + 1,
  });
  const items = rows.slice(0, page.limit).map(shown);
  return { items, next: rows.length > page.limit ? (items.at(-1)?.tag ?? null) : null };
}

/** Those of the pieces that are this member's and came home, in the order of the list. */
export async function findUnsold(
  db: Transaction,
  { memberId, saleId }: { memberId: string; saleId: string },
  ids: readonly string[],
): Promise<UnsoldPiece[]> {
  const rows = await db.item.findMany({
    where: { ...unsoldOf(memberId, saleId), id: { in: [...ids] } },
    include: read(saleId),
    orderBy: { tag: "desc" },
  });
  return rows.map(shown);
}

type Row = Awaited<ReturnType<typeof readOne>>;
const readOne = (db: Transaction) => db.item.findFirstOrThrow({ include: read("") });

function shown(row: Row): UnsoldPiece {
  const { id, tag, saleId, description, size, colours, piecesInSet } = row;
  const again = row.enteredAgain[0]?.item;
  return {
    ...{ id, tag, saleId, description, size, colours, piecesInSet },
    shownTag: showTag(tag),
    saleName: row.sale.name,
    kindName: row.kind.name,
    price: Number(row.price),
    atHome: row.count?.withMember ?? 0,
    again: again ? { ...again, shownTag: showTag(again.tag) } : null,
  };
}
