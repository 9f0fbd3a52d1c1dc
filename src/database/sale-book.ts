import { groupBy } from "../rules/group-by.ts";
import type { BookMember, MissingItem, SaleBook } from "../rules/policy/sale-book.ts";
import { showTag } from "../rules/tag-number.ts";
import { bookLines, type GatheredLine } from "./book-lines.ts";
import type { Transaction } from "./client.ts";
import { cardFeesOf } from "./figures/card-fees.ts";
import { type SellerRead, sellersOf } from "./sellers.ts";

/** A sale as the guild's policy is applied to it, with the words around its figures. */
export interface GatheredBook {
  book: Omit<SaleBook, "lines"> & { lines: readonly GatheredLine[] };
  sellers: ReadonlyMap<string, SellerRead>;
  /** Tag and description of missing items, by item. */
  pieces: ReadonlyMap<string, string>;
}

/** Everything that decides what members are owed for a sale; with `memberId` for one of them. */
export async function gatherSaleBook(
  db: Transaction,
  saleId: string,
  memberId: string | null = null,
): Promise<GatheredBook> {
  const sellers = await sellersOf(db, saleId, memberId);
  const missing = await missingItems(db, saleId, memberId);
  const missingOf = groupBy(missing, (item) => item.memberId);
  const carried = await carriedOf(
    db,
    sellers.map((one) => one.memberId),
  );
  const members = sellers.map(
    ({ memberName: _shownElsewhere, ...seller }): BookMember => ({
      ...seller,
      missing: missingOf.get(seller.memberId) ?? [],
      carried: carried.get(seller.memberId) ?? 0,
    }),
  );
  const lines = await bookLines(db, saleId, memberId);
  return {
    book: { members, lines, cardFee: await openCardFee(db, saleId) },
    sellers: new Map(sellers.map((one) => [one.memberId, one])),
    pieces: new Map(missing.map(({ itemId, about }) => [itemId, about])),
  };
}

/** What the terminal's totals charged beyond what settlements shared out; null before it is known. */
async function openCardFee(db: Transaction, saleId: string): Promise<number | null> {
  const known = await cardFeesOf(db, saleId);
  if (known === null) return null;
  const { _sum } = await db.settlement.aggregate({
    where: { saleId },
    _sum: { cardFeeWhole: true },
  });
  return Math.max(0, known - Number(_sum.cardFeeWhole ?? 0n));
}

/** What the newest statement of each member left unpaid: held, or owed to the guild. */
async function carriedOf(db: Transaction, memberIds: string[]): Promise<Map<string, number>> {
  const rows = await db.$queryRaw<{ memberId: string; left: bigint }[]>`
    SELECT DISTINCT ON (member_id) member_id AS "memberId", net + carried - due AS left
    FROM statement WHERE member_id = ANY (${memberIds}::uuid[]) ORDER BY member_id, number DESC`;
  return new Map(rows.map(({ memberId, left }) => [memberId, Number(left)]));
}

type Missing = MissingItem & { memberId: string; about: string };

async function missingItems(
  db: Transaction,
  saleId: string,
  memberId: string | null,
): Promise<Missing[]> {
  const items = await db.item.findMany({
    where: { saleId, count: { lost: { gt: 0 } }, ...(memberId ? { memberId } : {}) },
    include: { count: true, kind: true },
    orderBy: { tag: "asc" },
  });
  return items.map(({ id, kind, donated, count, price, tag, description, ...item }) => ({
    itemId: id,
    memberId: item.memberId,
    about: `${showTag(tag)} ${description}`,
    kind: kind.code,
    donated,
    quantity: count?.lost ?? 0,
    price: Number(price),
  }));
}
