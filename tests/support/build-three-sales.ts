import { openTill } from "../../src/actions/open-till.ts";
import { hashPassphrase } from "../../src/actions/passphrase.ts";
import { recordPayout } from "../../src/actions/record-payout.ts";
import { voidReceipt } from "../../src/actions/void-receipt.ts";
import type { Database } from "../../src/database/client.ts";
import type { Role } from "../../src/rules/roles.ts";
import { buildMember, buildSale, deedOf } from "./build.ts";
import { enter } from "./build-items.ts";
import { buildSettling, closeTill, done, giveBack, sell, settleNow } from "./build-settlement.ts";
import { buildPieces } from "./build-till.ts";

export const passphrase = "moss and straw on the loom";

/**
 * A guild in the middle of its life: one sale settled and partly paid, one selling with receipts
 * of every sort, one taking entries. Every role has a person who can sign in.
 */
export async function buildThreeSales(db: Database) {
  const settled = await buildSettling(db);
  const { weaver, cashier, chair, treasurer } = settled;
  const days = { firstDay: soon(-30), lastDay: soon(-28) };
  await db.sale.update({ where: { id: settled.sale.id }, data: { name: "Summer sale", ...days } });
  await closeTill(db, settled);
  await settleNow(db, settled);
  await payOne(db, treasurer);

  const selling = await buildSale(db, { name: "Winter sale", stage: "selling" });
  const tills = [await openedTill(db, cashier, selling.id)];
  const hall = { ...settled, sale: selling, tills };
  const prices = [4_500, 1_999, 12_000, 800].map((price) => ({ price }));
  const pieces = await buildPieces(db, selling, weaver, [
    ...prices,
    { price: 2_500, quantity: 3 },
    { price: 900, onFloor: 0 },
  ]);
  const receiptId = await sell(db, hall, [pieces[0]!]);
  await giveBack(db, hall, await sell(db, hall, [pieces[1]!]));
  const wrong = await sell(db, hall, [pieces[2]!]);
  const called = { receiptId: wrong, reason: "Rung up twice" };
  done(await voidReceipt(deedOf(db, cashier), called));

  // The pieces above went straight into the tables, past the member's own count.
  await db.member.update({ where: { id: weaver.id }, data: { nextItemNumber: 50 } });
  const open = { name: "Spring sale", stage: "entries-open", entryDeadline: soon(30) };
  const entering = await buildSale(db, open);
  await enter(db, weaver, entering);
  const desk = await buildMember(db, ["desk"]);
  await mayAlso(db, chair, ["member", "chair"]);
  const passphraseHash = await hashPassphrase(passphrase);
  await db.member.updateMany({ data: { passphraseHash } });
  return { weaver, cashier, chair, treasurer, desk, settled, selling, receiptId, pieces };
}

const soon = (days: number): Date => new Date(Date.now() + days * 86_400_000);

const mayAlso = (db: Database, { id }: { id: string }, roles: Role[]) =>
  db.member.update({ where: { id }, data: { roles } });

type Person = Parameters<typeof deedOf>[1];

async function payOne(db: Database, treasurer: Person): Promise<void> {
  const statement = await db.statement.findFirstOrThrow({ where: { net: { gt: 0 } } });
  const payout = {
    ...{ statementId: statement.id, method: "cheque" as const, reference: "2041" },
    paidOn: new Date().toISOString().slice(0, 10),
  };
  done(await recordPayout(deedOf(db, treasurer), payout));
}

async function openedTill(db: Database, cashier: Person, saleId: string) {
  const till = await db.till.create({ data: { saleId, number: 1, name: "Front door" } });
  const opened = done(await openTill(deedOf(db, cashier), { tillId: till.id, float: 10_000 }));
  return { ...till, sessionId: opened.sessionId };
}
