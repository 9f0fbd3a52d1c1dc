import { openTill } from "../../src/actions/open-till.ts";
import { recordPayout } from "../../src/actions/record-payout.ts";
import { type Role, roles } from "../../src/rules/roles.ts";
import type { TestApp } from "./app.ts";
import { buildSale, deedOf } from "./build.ts";
import { buildSettling, done, settleNow } from "./build-settlement.ts";
import { buildPieces } from "./build-till.ts";
import type { Known } from "./from-schema.ts";

/** A guild with something of every kind, and a person for each role and for all at once. */
export async function buildAll(base: TestApp) {
  const { db } = base;
  const hall = await buildSettling(db);
  await settleNow(db, hall);
  await payTheFirst(base, hall);
  await buildSale(db, { name: "Spring sale", entryDeadline: new Date("2099-01-01") });
  const selling = await buildSale(db, { name: "Summer sale", stage: "selling" });
  const till = await db.till.create({ data: { saleId: selling.id, number: 1, name: "One" } });
  done(await openTill(deedOf(db, hall.cashier), { tillId: till.id, float: 10_000 }));
  await buildPieces(db, selling, hall.weaver, [{ price: 1_000, quantity: 9 }]);
  // The builder gives numbers of its own; the next ones come after them.
  await db.member.updateMany({ data: { nextItemNumber: 20 } });
  const helper = { number: 900, name: "Desk helper", roles: ["desk"] };
  const desk = await db.member.create({ data: helper });
  const holder = { number: 901, name: "Holder of all roles", roles: [...roles] };
  const everybody = await db.member.create({ data: holder });
  const { weaver: member, cashier, treasurer, chair } = hall;
  const people: Record<Role, { id: string }> = { member, cashier, desk, treasurer, chair };
  return { people, everybody, known: await readKnown(base) };
}

async function payTheFirst(
  { db }: TestApp,
  { treasurer }: { treasurer: Parameters<typeof deedOf>[1] },
) {
  const { id } = await db.statement.findFirstOrThrow({ where: { net: { gt: 0 } } });
  const payment = { method: "cheque" as const, reference: "1001", paidOn: "2026-12-01" };
  done(await recordPayout(deedOf(db, treasurer), { statementId: id, ...payment }));
}

async function readKnown({ db }: TestApp): Promise<Known> {
  const select = { id: true } as const;
  const of = (rows: { id: string }[]) => rows.map(({ id }) => id);
  const items = await db.item.findMany();
  return {
    ids: {
      sale: of(await db.sale.findMany({ select })),
      item: of(items),
      member: of(await db.member.findMany({ select })),
      till: of(await db.till.findMany({ select })),
      receipt: of(await db.receipt.findMany({ select })),
      line: of(await db.receiptLine.findMany({ select })),
      settlement: of(await db.settlement.findMany({ select })),
      statement: of(await db.statement.findMany({ select })),
      payout: of(await db.payout.findMany({ select })),
      kind: of(await db.kind.findMany({ select, take: 2 })),
    },
    texts: {
      tag: items.map(({ tag }) => tag),
      kind: ["scarf"],
      fibre: ["wool", "silk"],
      care: ["hand-wash-flat"],
      currency: ["USD"],
      locale: ["en-US", "fr-CA"],
      timeZone: ["America/Chicago"],
      phone: ["555-0117"],
      text: ["name,email\nNew Weaver,new@example.org", "One\nTwo"],
    },
  };
}
