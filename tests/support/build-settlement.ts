import { cashUp } from "../../src/actions/cash-up.ts";
import { finaliseSettlement } from "../../src/actions/finalise-settlement.ts";
import { openTill } from "../../src/actions/open-till.ts";
import { recordReceipt } from "../../src/actions/record-receipt.ts";
import { returnGoods } from "../../src/actions/return-goods.ts";
import type { Database } from "../../src/database/client.ts";
import { previewSettlement } from "../../src/database/settlement-preview.ts";
import type { Result } from "../../src/rules/problem.ts";
import { buildMember, deedOf } from "./build.ts";
import { moveTo } from "./build-items.ts";
import { type BuiltPiece, buildHall, buildPieces, receiptFor } from "./build-till.ts";

type Hall = Awaited<ReturnType<typeof buildHall>>;

/** The value of a deed that the test takes for granted. */
export function done<T>(result: Result<T>): T {
  if (!result.ok) throw new Error(JSON.stringify(result.problem));
  return result.value;
}

/** Sells pieces on one receipt and tells its id. */
export async function sell(
  db: Database,
  hall: Hall,
  lines: Parameters<typeof receiptFor>[1],
  more: object = {},
): Promise<string> {
  const receipt = receiptFor(hall.tills[0]!, lines, more);
  done(await recordReceipt(deedOf(db, hall.cashier), { ...receipt, saleId: hall.sale.id }));
  return receipt.id;
}

/** Gives back so many pieces of the only line of a receipt. */
export async function giveBack(db: Database, hall: Hall, receiptId: string, quantity = 1) {
  const line = await db.receiptLine.findFirstOrThrow({ where: { receiptId } });
  const lines = [{ lineId: line.id, quantity, goesTo: "floor" as const }];
  const tender = { kind: "other" as const };
  const input = { receiptId, tillId: hall.tills[0]!.id, lines, tender, reason: "Too short" };
  return done(await returnGoods(deedOf(db, hall.cashier), input));
}

type Cashier = Pick<Hall, "cashier">;

export async function closeTill(
  db: Database,
  hall: Cashier & Partial<Pick<Hall, "tills">>,
  till: { id: string } = hall.tills![0]!,
): Promise<void> {
  const sum = await db.posting.aggregate({
    where: { accountKey: `drawer/${till.id}` },
    _sum: { amount: true },
  });
  const counted = Number(sum._sum.amount ?? 0n);
  const given = { tillId: till.id, counted, witness: "Somebody else", note: "" };
  done(await cashUp(deedOf(db, hall.cashier), given));
}

export const reopenTill = async (
  db: Database,
  hall: Cashier & Partial<Pick<Hall, "tills">>,
  till: { id: string } = hall.tills![0]!,
) => done(await openTill(deedOf(db, hall.cashier), { tillId: till.id, float: 50_000 }));

/**
 * Two weavers, three lines sold and one piece left over, at the stage settling: 45.00 and
 * 2 × 19.99 of the first, 12.35 donated by her, 33.33 of the second, whose towel stays.
 */
export async function buildSettling(db: Database) {
  const hall = await buildHall(db, 1, 100_000);
  const other = await buildMember(db);
  const mine = await buildPieces(db, hall.sale, hall.weaver, [
    { price: 4_500 },
    { price: 1_999, quantity: 3 },
    { price: 1_235, donated: true },
  ]);
  const theirs = await buildPieces(db, hall.sale, other, [{ price: 3_333 }, { price: 2_000 }]);
  const [shawl, towels, gift] = mine as [BuiltPiece, BuiltPiece, BuiltPiece];
  const [scarf] = theirs as [BuiltPiece];
  const receipts = {
    first: await sell(db, hall, [shawl]),
    stack: await sell(db, hall, [{ piece: towels, quantity: 2 }]),
    mixed: await sell(db, hall, [gift, scarf]),
  };
  await moveTo(db, hall.sale, "settling");
  return { ...hall, other, receipts };
}

/** The tills of a sale that are open now. */
export const openTills = (db: Database, { sale }: Pick<Hall, "sale">) =>
  db.till.findMany({ where: { saleId: sale.id, sessions: { some: { closedAt: null } } } });

/** Cashes up whatever is open, since no sale is settled before. */
export async function closeTills(
  db: Database,
  hall: Pick<Hall, "sale" | "cashier">,
): Promise<void> {
  for (const till of await openTills(db, hall)) await closeTill(db, hall, till);
}

/**
 * Settles what is open, as the treasurer does who just looked at the preview. Tills that are open
 * are cashed up for it and opened again, so that more can come back afterwards.
 */
export async function settleNow(db: Database, hall: Pick<Hall, "sale" | "treasurer" | "cashier">) {
  const { fingerprint } = await previewSettlement(db, hall.sale.id);
  const input = { saleId: hall.sale.id, fingerprint };
  const settled = await withTillsShut(db, hall, async () =>
    done(await finaliseSettlement(deedOf(db, hall.treasurer), input)),
  );
  if (settled.state !== "settled") throw new Error("A second person is asked for.");
  return settled;
}

/** Cashes up what is open, and opens it again for what the test sells afterwards. */
export async function withTillsShut<T>(
  db: Database,
  hall: Pick<Hall, "sale" | "cashier">,
  work: () => Promise<T>,
): Promise<T> {
  const tills = await openTills(db, hall);
  for (const till of tills) await closeTill(db, hall, till);
  const value = await work();
  for (const till of tills) await reopenTill(db, hall, till);
  return value;
}
