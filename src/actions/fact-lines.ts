import type { FactLine, ReceiptFact } from "../contract/till-fact.ts";
import type { FactScene, LineToReverse } from "../database/fact-scene.ts";
import type { LineToWrite, NoteToWrite } from "../database/receipt-writing.ts";
import type { TillItem } from "../database/till-reads.ts";
import { floorState } from "../rules/on-floor.ts";
import { computeReversal } from "../rules/reversal.ts";
import { showTag } from "../rules/tag-number.ts";

/** A fact's lines as they are recorded, with what the treasurer has to look at. */
export interface FactLines {
  lines: LineToWrite[];
  notes: NoteToWrite[];
}

/**
 * Finds the piece of every line that was sold. What is not there to be sold, or not known at all,
 * is recorded in suspense: the money was taken, and nobody is credited twice for one piece.
 */
export function soldLines(fact: ReceiptFact, scene: FactScene): FactLines {
  const byTag = new Map(scene.items.map((item) => [item.tag, item]));
  const left = new Map(scene.items.map(({ id, onFloor }) => [id, onFloor]));
  const notes: NoteToWrite[] = [];
  const lines = fact.lines.map((line, index) => {
    const note = (kind: string, more: object = {}) =>
      notes.push({ kind, detail: { line: index + 1, tag: line.tag, ...more } });
    const plain = plainLine(line, index, scene);
    if (line.kind === "goods" && plain.kind === "untagged") note("unknown-goods");
    if (line.kind !== "item") return plain;
    const item = byTag.get(line.tag);
    if (!item) {
      note("unknown-tag");
      return unknownPiece(plain, line);
    }
    const onFloor = left.get(item.id)! >= line.quantity;
    if (onFloor) left.set(item.id, left.get(item.id)! - line.quantity);
    else note(floorState(item) === "sold" ? "sold-twice" : "not-on-floor", { itemId: item.id });
    if (line.unitPrice !== item.price && line.priceReason === "")
      note("price-differs", { taken: line.unitPrice, list: item.price });
    return pieceOf(plain, item, !onFloor);
  });
  return { lines, notes };
}

/**
 * The lines of a return or a void. Whatever has come back before, or belongs to a sale that has
 * not arrived, stands in suspense: the money went out, and the books say so until it is clear.
 */
export function returnedLines(fact: ReceiptFact, scene: FactScene): FactLines {
  const byId = new Map(scene.original?.lines.map((line) => [line.id, line]));
  const notes: NoteToWrite[] = [];
  const lines = fact.lines.map((line, index) => {
    const original = byId.get(line.reversesLineId ?? "");
    const plain = { ...plainLine(line, index, scene), awaitsLineId: line.reversesLineId };
    if (!original) return unknownPiece(plain, line);
    if (fits(line, original)) return lineBack(plain, original, line);
    notes.push({ kind: "returned-twice", detail: { line: index + 1, lineId: original.id } });
    return { ...unknownPiece(plain, line), awaitsLineId: null };
  });
  if (!scene.original)
    notes.push({ kind: "awaits-sale", detail: { saleReceipt: fact.reversesId } });
  return { lines, notes };
}

/** The stored parts of the sale, exactly: what a return gives back is never worked out afresh. */
function fits(line: FactLine, original: LineToReverse): boolean {
  const back = computeReversal(
    { lines: [{ ...original, lineId: original.id, taxIncluded: original.taxInside }] },
    [{ lineId: original.id, quantity: 0 - line.quantity }],
  );
  if (!back.ok || original.quantity < 1) return false;
  const [exact] = back.value.lines;
  return (
    exact?.amount === line.amount &&
    exact.tax === line.tax &&
    exact.discount === line.discount &&
    original.unitPrice === line.unitPrice
  );
}

const lineBack = (plain: LineToWrite, original: LineToReverse, line: FactLine): LineToWrite => ({
  ...plain,
  kind: original.kind,
  itemId: original.itemId,
  goodsId: original.goodsId,
  memberId: original.memberId,
  donated: original.donated,
  suspended: original.suspended,
  reversesLineId: original.id,
  awaitsLineId: null,
  goesTo: line.goesTo ?? "floor",
});

const pieceOf = (plain: LineToWrite, item: TillItem, suspended: boolean): LineToWrite => ({
  ...plain,
  itemId: item.id,
  memberId: item.memberId,
  donated: item.donated,
  suspended,
});

const unknownPiece = (plain: LineToWrite, line: FactLine): LineToWrite => ({
  ...plain,
  kind: "untagged",
  itemId: null,
  goodsId: null,
  donated: false,
  suspended: true,
  description: line.tag ? `${line.description} (tag ${showTag(line.tag)})` : line.description,
});

/** A line as it was sent, with the guild's goods and the member found where they are known. */
function plainLine(line: FactLine, index: number, scene: FactScene): LineToWrite {
  const { id, kind, tag, description, quantity, unitPrice, discount, amount, tax, taxInside } =
    line;
  const goods = scene.goods.find((good) => good.id === line.goodsId);
  const lost = kind === "goods" && !goods;
  return {
    ...{ id, tag, description, quantity, unitPrice, discount, amount, tax, taxInside },
    position: index + 1,
    kind: lost ? "untagged" : kind,
    itemId: null,
    goodsId: goods?.id ?? null,
    memberId: scene.members.find(({ number }) => number === line.memberNumber)?.id ?? null,
    taxKind: line.taxKind,
    donated: kind === "donation",
    suspended: kind === "untagged" || lost,
    priceReason: line.priceReason,
    reversesLineId: null,
    awaitsLineId: null,
    goesTo: null,
  };
}
