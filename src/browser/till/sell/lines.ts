import type { CatalogueItem, GuildGoodShown } from "../../../contract/till-device.ts";
import type { Minor } from "../../../rules/money.ts";
import { memberNumberOf } from "../../../rules/tag-number.ts";
import type { TillLine } from "./basket.ts";

/** More bags than this on one line are a slip of the finger. */
export const mostGoods = 99;

/** A tagged piece as the till's own list has it. */
export const itemLine = (item: CatalogueItem, id: string): TillLine => ({
  id,
  kind: "item",
  key: item.tag,
  itemId: item.id,
  tag: item.tag,
  description: item.size ? `${item.description}, ${item.size}` : item.description,
  memberNumber: item.memberNumber,
  taxKind: item.taxKind,
  unitPrice: item.price,
  listPrice: item.price,
  quantity: 1,
  // A piece in the buyer's hands is there, whatever the list says of it.
  most: Math.max(1, item.onFloor),
  piecesInSet: item.piecesInSet,
  donated: item.donated,
  markdownAllowed: item.markdown,
});

export interface UntaggedPiece {
  description: string;
  price: Minor;
  memberNumber?: number;
  /** What its tag says when the tag is readable but not in the list. */
  tag?: string;
}

/** A piece whose tag is missing, or is not in the list: the treasurer finds its owner later. */
export const untaggedLine = (piece: UntaggedPiece, id: string): TillLine => ({
  ...plain(id, piece.price),
  kind: "untagged",
  key: piece.tag || id,
  tag: piece.tag ?? "",
  description: piece.description,
  memberNumber: piece.memberNumber ?? (piece.tag ? memberNumberOf(piece.tag) : undefined),
  most: 1,
});

/** The guild's own goods, or a gift; the same button pressed twice makes two of one line. */
export const goodsLine = (good: GuildGoodShown, price: Minor, id: string): TillLine => ({
  ...plain(id, price),
  kind: good.kind,
  key: good.price === null ? id : good.id,
  goodsId: good.id,
  tag: "",
  description: good.name,
  taxKind: good.kind === "donation" ? "" : good.taxKind,
  most: good.price === null ? 1 : mostGoods,
  donated: good.kind === "donation",
});

/** What the buyer gives so that the total is a round one. */
export const roundUpLine = (amount: Minor, id: string): TillLine => ({
  ...plain(id, amount),
  kind: "donation",
  key: id,
  tag: "",
  description: "Rounded up for the guild",
  most: 1,
  donated: true,
});

const plain = (id: string, price: Minor) => ({
  id,
  taxKind: "",
  unitPrice: price,
  listPrice: price,
  quantity: 1,
  piecesInSet: 1,
  donated: false,
  markdownAllowed: false,
});
