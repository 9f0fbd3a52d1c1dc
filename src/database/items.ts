import type { Fibre } from "../rules/fibre.ts";
import { type ItemState, itemState, type Pieces } from "../rules/item-state.ts";
import { type LabelDetails, wholeDetails } from "../rules/labels/details.ts";
import { showTag } from "../rules/tag-number.ts";
import type { Transaction } from "./client.ts";
import { literal } from "./search.ts";

/** An item as pages and API read it: plain JSON, money in whole smallest coins. */
export interface ShownItem {
  id: string;
  saleId: string;
  memberId: string;
  memberNumber: number;
  number: number;
  tag: string;
  shownTag: string;
  /** The code of its kind. */
  kind: string;
  kindName: string;
  /** What the label rules take its kind for. */
  labelKind: string;
  description: string;
  technique: string;
  fibres: Fibre[];
  size: string;
  colours: string;
  label: LabelDetails;
  price: number;
  quantity: number;
  piecesInSet: number;
  donated: boolean;
  /** Its member agrees to the markdown of the last day. */
  markdown: boolean;
  version: number;
  enteredAt: string;
  withdrawnAt: string | null;
  state: ItemState;
  pieces: Pieces;
}

/** What has to be read with an item so that it can be shown. */
const whole = {
  kind: { select: { code: true, name: true, labelGroup: true } },
  member: { select: { number: true } },
  count: true,
  checkIns: { orderBy: { id: "desc" }, take: 1, select: { decision: true } },
  movements: { where: { kind: "picked-up" }, take: 1, select: { id: true } },
} as const;

const readWhole = (db: Transaction, id: string) =>
  db.item.findUnique({ where: { id }, include: whole });

type Row = NonNullable<Awaited<ReturnType<typeof readWhole>>>;

export async function findItem(db: Transaction, id: string): Promise<ShownItem | undefined> {
  const row = await readWhole(db, id);
  return row ? shown(row) : undefined;
}

export async function findItemByTag(db: Transaction, tag: string): Promise<ShownItem | undefined> {
  const row = await db.item.findUnique({ where: { tag }, include: whole });
  return row ? shown(row) : undefined;
}

export interface ItemFilter {
  id?: string;
  saleId?: string;
  memberId?: string;
  /** Only what came in this list. */
  listId?: string;
  /** Words, a member's number or a part of a tag. */
  q?: string;
  /** Only items with pieces in this place, only withdrawn ones, or whatever can still sell. */
  place?: ItemPlace | "unsold";
}

export const itemPlaces = ["member", "floor", "buyer", "guild", "lost", "withdrawn"] as const;

export type ItemPlace = (typeof itemPlaces)[number];

export interface Page {
  /** The tag of the last item of the page before. */
  after?: string;
  limit: number;
}

/** Items in the order of their tags, which is the order of members and then of their entries. */
export async function listItems(db: Transaction, filter: ItemFilter, page: Page) {
  const rows = await db.item.findMany({
    where: { AND: [conditions(filter), page.after ? { tag: { gt: plain(page.after) } } : {}] },
    include: whole,
    orderBy: { tag: "asc" },
    take: page.limit + 1,
  });
  const items = rows.slice(0, page.limit).map(shown);
  return { items, next: rows.length > page.limit ? (items.at(-1)?.tag ?? null) : null };
}

export const countItems = (db: Transaction, filter: ItemFilter): Promise<number> =>
  db.item.count({ where: conditions(filter) });

const inPlace = {
  member: { withdrawnAt: null, count: { withMember: { gt: 0 } } },
  floor: { count: { onFloor: { gt: 0 } } },
  buyer: { count: { withBuyer: { gt: 0 } } },
  guild: { count: { withGuild: { gt: 0 } } },
  lost: { count: { lost: { gt: 0 } } },
  withdrawn: { withdrawnAt: { not: null } },
  unsold: { OR: [{ count: { withMember: { gt: 0 } } }, { count: { onFloor: { gt: 0 } } }] },
} as const satisfies Record<ItemPlace | "unsold", object>;

const conditions = ({ id, saleId, memberId, listId, q, place }: ItemFilter) => ({
  ...(id ? { id } : {}),
  ...(saleId ? { saleId } : {}),
  ...(listId ? { listPiece: { listId } } : {}),
  ...(memberId ? { memberId } : {}),
  AND: [place ? inPlace[place] : {}, ...itemWords(q ?? "")],
});

/** What a search asks of an item, one condition for each word of it. */
export const itemWords = (q: string) => plain(q).split(/\s+/).filter(Boolean).map(oneWord);

/** Each word has to be found somewhere, so that more words find fewer items. */
function oneWord(word: string) {
  const digits = word.replace(/[-–.]/g, "");
  const contains = { contains: literal(word), mode: "insensitive" as const };
  const words = [
    { description: contains },
    { technique: contains },
    { colours: contains },
    { size: contains },
    { kind: { name: contains } },
  ];
  if (!/^\d+$/.test(digits)) return { OR: words };
  const numbers = digits.length <= 4 ? [{ member: { number: Number(digits) } }] : [];
  return { OR: [...words, ...numbers, { tag: { contains: digits } }] };
}

/** A NUL or another control character would end the query with an error instead of no hits. */
const plain = (text: string): string => text.replace(/\p{Cc}/gu, " ").trim();

function shown(row: Row): ShownItem {
  if (!row.count) throw new Error(`Item ${row.id} has no count of its pieces.`);
  const { itemId: _same, ...pieces } = row.count;
  const { id, saleId, memberId, number, tag, description, technique, size, colours } = row;
  const { quantity, piecesInSet, donated, markdown, version } = row;
  const history = {
    withdrawn: row.withdrawnAt !== null,
    turnedAway: row.checkIns[0]?.decision === "turned-away",
    pickedUp: row.movements.length > 0,
  };
  return {
    ...{ id, saleId, memberId, number, tag, description, technique, size, colours },
    ...{ quantity, piecesInSet, donated, markdown, version, pieces },
    memberNumber: row.member.number,
    shownTag: showTag(tag),
    kind: row.kind.code,
    kindName: row.kind.name,
    labelKind: row.kind.labelGroup || row.kind.code,
    fibres: row.fibres as unknown as Fibre[],
    label: wholeDetails(row.labelDetails as object),
    price: Number(row.price),
    enteredAt: row.enteredAt.toISOString(),
    withdrawnAt: row.withdrawnAt?.toISOString() ?? null,
    state: itemState(pieces, history),
  };
}
