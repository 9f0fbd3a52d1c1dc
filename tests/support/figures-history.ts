import { v7 } from "uuid";
import { openTill } from "../../src/actions/open-till.ts";
import { recordFact } from "../../src/actions/record-fact.ts";
import type { FactLine, ReceiptFact } from "../../src/contract/till-fact.ts";
import type { Database } from "../../src/database/client.ts";
import { roundCash } from "../../src/rules/cash-rounding.ts";
import { totalsOf } from "../../src/rules/receipt.ts";
import { flatTax } from "../../src/rules/tax/tax-rules.ts";
import { buildSale, deedOf } from "./build.ts";
import { done } from "./build-settlement.ts";
import { buildPieces, testTaxRate } from "./build-till.ts";
import type { Hall } from "./till-device.ts";
import { lineOf, untagged } from "./till-facts.ts";

/** One thing that happens at a till: what is sold, how it is paid, and whether it comes back. */
export interface Happening {
  till: number;
  /** Minutes after the first day's morning. */
  minute: number;
  pieces: number[];
  bags: number;
  gift: number;
  untagged: number;
  exempt: boolean;
  tender: "cash" | "cheque" | "card" | "other";
  back: "no" | "return" | "void" | "exchange";
}

export const morning = new Date("2026-11-27T14:00:00Z").getTime();
export const kinds = ["scarf", "towel"];
const cash = { step: 5, fives: "up" } as const;

/** A sale of its own with two tills, cash to five cents, and pieces of two kinds. */
export async function buildFloor(db: Database, hall: Hall) {
  const sale = await buildSale(db, { stage: "selling", cashStep: 5 });
  const tills = [];
  for (const number of [1, 2]) {
    const till = await db.till.create({
      data: { saleId: sale.id, number, name: `Till ${number}` },
    });
    const device = { tillId: till.id, name: "Phone", tokenHash: v7(), enrolledById: hall.chair.id };
    await db.tillDevice.create({ data: device });
    const { sessionId } = done(
      await openTill(deedOf(db, hall.cashier), { tillId: till.id, float: 10_000 }),
    );
    tills.push({ ...till, sessionId });
  }
  const prices = [4_500, 1_999, 333, 12_050].map((price) => ({ price, quantity: 90 }));
  const pieces = await buildPieces(db, sale, hall.weaver, prices);
  const towel = await db.kind.findUniqueOrThrow({ where: { code: "towel" } });
  const odd = pieces.filter((_, index) => index % 2 === 1).map(({ id }) => id);
  await db.item.updateMany({ where: { id: { in: odd } }, data: { kindId: towel.id } });
  const bag = await db.guildGood.create({
    data: { saleId: sale.id, name: "Cloth bag", kind: "goods", price: 200n, position: 1 },
  });
  return { sale, tills, pieces, bag };
}

type Floor = Awaited<ReturnType<typeof buildFloor>>;

/** Sends what happens as the tills would, and hands back what they sent. */
export async function play(db: Database, hall: Hall, floor: Floor, history: readonly Happening[]) {
  const numbers = floor.tills.map(() => 0);
  const sent: ReceiptFact[] = [];
  const send = async (fact: ReceiptFact, till: number) => {
    const from = { db, tillId: floor.tills[till]!.id, saleId: floor.sale.id, requestId: "test" };
    done(await recordFact(from, fact));
    sent.push(fact);
  };
  const numbered = (till: number) => {
    numbers[till]! += 1;
    return { number: numbers[till]!, tillSessionId: floor.tills[till]!.sessionId };
  };
  for (const happening of history) {
    const { till, back } = happening;
    const sale = saleOf(hall, floor, happening, numbered(till));
    await send(sale, till);
    if (back === "no") continue;
    const returned = backOf(sale, back, numbered(till));
    await send(returned, till);
    if (back !== "exchange") continue;
    const other = saleOf(hall, floor, { ...happening, exempt: false }, numbered(till));
    const tenders = exchanged(-returned.total, other.total);
    await send({ ...other, tenders, rounding: 0, exchangeId: returned.id }, till);
  }
  return sent;
}

/** What came back pays for the other goods; they are the same, but tax may have been added. */
const exchanged = (back: number, total: number): ReceiptFact["tenders"] => [
  { kind: "exchange", amount: back, reference: "" },
  ...(total === back ? [] : [{ kind: "card" as const, amount: total - back, reference: "" }]),
];

function linesOf(floor: Floor, happening: Happening): FactLine[] {
  const base = lineOf(floor.pieces[0]!);
  const { bag } = floor;
  const goods = { kind: "goods" as const, tag: "", goodsId: bag.id, description: bag.name };
  const gift = { kind: "donation" as const, tag: "", description: "Gift", donated: true };
  const priced = (price: number, quantity = 1) => ({
    ...{ id: v7(), unitPrice: price, quantity, amount: price * quantity },
  });
  return [
    ...happening.pieces.map((index) => lineOf(floor.pieces[index]!)),
    ...(happening.bags > 0 ? [{ ...base, ...goods, ...priced(200, happening.bags) }] : []),
    ...(happening.gift > 0 ? [{ ...base, ...gift, ...priced(happening.gift) }] : []),
    ...(happening.untagged > 0 ? [untagged(happening.untagged)] : []),
  ];
}

type Numbered = Pick<ReceiptFact, "number" | "tillSessionId">;

function saleOf(hall: Hall, floor: Floor, happening: Happening, numbered: Numbered): ReceiptFact {
  const lines = linesOf(floor, happening);
  const totals = totalsOf(
    lines.map((line) => ({
      ...line,
      ...{ key: line.id, goodsId: undefined, markdownAllowed: false, memberNumber: undefined },
    })),
    {
      ...{ tax: flatTax(testTaxRate, "Tax"), day: "2026-11-27", markdownRate: 0 },
      exempt: happening.exempt,
    },
  );
  const inCash = happening.tender === "cash";
  const rounding = inCash ? roundCash(totals.total, cash).rounding : 0;
  const paid = totals.total + rounding;
  return {
    ...{ id: v7(), ...numbered, cashierId: hall.cashier.id, kind: "sale" },
    madeAt: new Date(morning + happening.minute * 60_000).toISOString(),
    ...{ reversesId: null, exchangeId: null, reason: "" },
    exemption: happening.exempt ? "ST3-1" : "",
    lines: lines.map((line, index) => ({ ...line, tax: totals.lines[index]!.tax })),
    taxes: totals.components,
    tenders: [{ kind: happening.tender, amount: paid, reference: "" }],
    ...{ subtotal: totals.subtotal, tax: totals.tax, total: totals.total, rounding },
    ...{ cashGiven: inCash ? paid : 0, change: 0 },
  };
}

/** Everything comes back an hour later; into an exchange goes the exact amount, without rounding. */
function backOf(sale: ReceiptFact, how: Happening["back"], numbered: Numbered): ReceiptFact {
  const minus = (amount: number) => 0 - amount;
  const tenders = sale.tenders.map((tender) => ({ ...tender, amount: minus(tender.amount) }));
  const isExchange = how === "exchange";
  return {
    ...{ ...sale, id: v7(), ...numbered, kind: how === "void" ? "void" : "return" },
    madeAt: new Date(Date.parse(sale.madeAt) + 3_600_000).toISOString(),
    ...{ reversesId: sale.id, reason: "Too short", cashGiven: 0, change: 0 },
    lines: sale.lines.map((line) => ({
      ...{ ...line, id: v7(), quantity: minus(line.quantity), amount: minus(line.amount) },
      ...{ tax: minus(line.tax), reversesLineId: line.id },
      goesTo: line.kind === "item" ? "floor" : null,
    })),
    taxes: sale.taxes.map((tax) => ({ ...tax, base: minus(tax.base), tax: minus(tax.tax) })),
    tenders: isExchange
      ? [{ kind: "exchange", amount: minus(sale.total), reference: "" }]
      : tenders,
    ...{ subtotal: minus(sale.subtotal), tax: minus(sale.tax), total: minus(sale.total) },
    rounding: isExchange ? 0 : minus(sale.rounding),
  };
}
