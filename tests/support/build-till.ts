import { v7 } from "uuid";
import { openTill } from "../../src/actions/open-till.ts";
import type { Database, Transaction } from "../../src/database/client.ts";
import { totalsOf } from "../../src/rules/receipt.ts";
import { makeTag } from "../../src/rules/tag-number.ts";
import { flatTax } from "../../src/rules/tax/tax-rules.ts";
import { buildGuild, buildMember, buildSale, deedOf } from "./build.ts";

export interface PieceToBuild {
  price: number;
  quantity?: number;
  donated?: boolean;
  /** How many have come to the desk; all of them unless told otherwise. */
  onFloor?: number;
}

export interface BuiltPiece {
  id: string;
  tag: string;
  price: number;
}

/** Items of one member, checked in, in three statements however many they are. */
export async function buildPieces(
  db: Database,
  sale: { id: string },
  member: { id: string; number: number },
  pieces: readonly PieceToBuild[],
): Promise<BuiltPiece[]> {
  const kind = await db.kind.findFirstOrThrow();
  const first = (await db.item.count({ where: { memberId: member.id } })) + 1;
  const rows = pieces.map(({ price, quantity = 1, donated = false, onFloor = quantity }, index) => {
    const number = first + index;
    const tag = makeTag(member.number, number, 8);
    if (!tag.ok) throw new Error(tag.problem.detail);
    return { id: v7(), number, tag: tag.value, price, quantity, donated, onFloor };
  });
  const moved = { byId: member.id };
  const writeAll = async (tx: Transaction) => {
    await tx.item.createMany({
      data: rows.map(({ onFloor: _later, price, number, ...row }) => ({
        ...row,
        number,
        price: BigInt(price),
        saleId: sale.id,
        memberId: member.id,
        kindId: kind.id,
        description: `Scarf ${number}`,
        fibres: [{ fibre: "wool", percent: 100 }],
      })),
    });
    await tx.movement.createMany({
      data: rows.map(({ id, quantity }) => ({
        ...moved,
        itemId: id,
        kind: "entered",
        fromPlace: "outside",
        toPlace: "member",
        quantity,
      })),
    });
    await tx.movement.createMany({
      data: rows
        .filter(({ onFloor }) => onFloor > 0)
        .map(({ id, onFloor }) => ({
          ...moved,
          itemId: id,
          kind: "checked-in",
          fromPlace: "member",
          toPlace: "floor",
          quantity: onFloor,
        })),
    });
  };
  // A busy machine takes its time over many rows; a list of statements would be cut off at 5 s.
  await db.$transaction(writeAll, { timeout: 60_000 });
  return rows.map(({ id, tag, price }) => ({ id, tag, price }));
}

/** A guild with a sale that is selling, a weaver, a cashier and open tills. */
export async function buildHall(db: Database, tillCount = 2, float = 10_000) {
  const guild = await buildGuild(db);
  const weaver = await buildMember(db);
  const cashier = await buildMember(db, ["cashier"]);
  const chair = await buildMember(db, ["chair"]);
  const treasurer = await buildMember(db, ["treasurer"]);
  const sale = await buildSale(db, { stage: "selling" });
  const tills = [];
  for (let number = 1; number <= tillCount; number += 1) {
    const till = await db.till.create({
      data: { saleId: sale.id, number, name: `Till ${number}` },
    });
    const opened = await openTill(deedOf(db, cashier), { tillId: till.id, float });
    if (!opened.ok) throw new Error(opened.problem.detail);
    tills.push({ ...till, sessionId: opened.value.sessionId });
  }
  return { guild, weaver, cashier, chair, treasurer, sale, tills };
}

export const testTaxRate = 8_250;

type LineOf = { piece: BuiltPiece; quantity?: number };

/** What a till would send for these pieces, paid in cash unless told otherwise. */
export function receiptFor(
  till: { id: string },
  lines: readonly (BuiltPiece | LineOf)[],
  more: object = {},
) {
  const basket = lines.map((line) => ("piece" in line ? line : { piece: line }));
  const { total } = totalsOf(
    basket.map(({ piece, quantity = 1 }) => ({
      kind: "item" as const,
      key: piece.tag,
      itemId: piece.id,
      tag: piece.tag,
      description: "",
      taxKind: "",
      unitPrice: piece.price,
      quantity,
      donated: false,
      markdownAllowed: false,
    })),
    { tax: flatTax(testTaxRate, "Tax"), day: "2026-11-27", exempt: false, markdownRate: 0 },
  );
  return {
    id: v7(),
    tillId: till.id,
    lines: basket.map(({ piece, quantity = 1 }) => ({
      kind: "item" as const,
      tag: piece.tag,
      quantity,
    })),
    exemption: "",
    tenders: [{ kind: "cash" as const, amount: total }],
    total,
    ...more,
  };
}

/** Every entry sums to zero and every piece is somewhere, straight from the tables. */
export async function expectBooks(db: Database): Promise<{ ledger: number; pieces: number }> {
  const [sums] = await db.$queryRaw<{ ledger: bigint; pieces: bigint }[]>`
    SELECT (SELECT count(*) FROM (SELECT entry_id FROM posting GROUP BY entry_id HAVING sum(amount) <> 0) e) AS ledger,
      (SELECT count(*) FROM item i JOIN item_count c ON c.item_id = i.id
        WHERE i.quantity <> c.entered OR c.with_buyer <> (SELECT coalesce(sum(quantity), 0)
          FROM receipt_line l WHERE l.item_id = i.id AND NOT l.suspended)) AS pieces`;
  return { ledger: Number(sums!.ledger), pieces: Number(sums!.pieces) };
}
