import { unitOf } from "../rules/currency.ts";
import { type FeePolicy, feesOf } from "../rules/policy/fees.ts";
import { firstPolicy } from "../rules/policy/policy.ts";
import { nobodySpecial } from "../rules/policy/words/rates.ts";
import { possibleRates } from "../rules/price/possible-rates.ts";
import type { PriceScene } from "../rules/price/price-help.ts";
import { taxOnTop } from "../rules/price/tax-on-top.ts";
import type { Database } from "./client.ts";
import { policyOf } from "./policies.ts";
import { entrySale } from "./sale-choice.ts";
import { findSale, type SaleRead } from "./sales.ts";
import { sellersOf } from "./sellers.ts";

/** Sales to set a price for: those that are not over, the newest first. */
export async function salesToPrice(db: Database): Promise<{ id: string; name: string }[]> {
  return db.sale.findMany({
    where: { stage: { not: "closed" } },
    orderBy: [{ firstDay: "desc" }, { id: "desc" }],
    select: { id: true, name: true },
    take: 20,
  });
}

/** The sale that a member enters pieces for, or else the last one there was. */
export async function saleToPrice(db: Database): Promise<SaleRead | null> {
  const next = await entrySale(db);
  if (next) return next;
  const last = await db.sale.findFirst({
    orderBy: [{ firstDay: "desc" }, { id: "desc" }],
    select: { id: true },
  });
  return last && findSale(db, last.id);
}

/** What a sale lays down for one member and one kind of goods. */
export async function priceScene(
  db: Database,
  sale: SaleRead,
  { memberId, kind, currency }: { memberId: string; kind: string; currency: string },
): Promise<PriceScene> {
  const { policy } = await policyOf(db, sale.id);
  const [found] = await sellersOf(db, sale.id, memberId);
  return {
    rates: possibleRates(policy.rates, found?.seller ?? nobodySpecial, kind),
    card: policy.cardFee,
    tax: taxOnTop(sale.tax, kind, sale.firstDay),
    entryFee: await entryFeeOf(db, policy.fees, sale, memberId),
    prices: { priceStep: sale.priceStep, priceFloor: sale.priceFloor, currency },
  };
}

/** As if one piece were entered; whoever sells for the first time may pay less. */
async function entryFeeOf(db: Database, fees: FeePolicy, sale: SaleRead, memberId: string) {
  const earlier = await db.item.findFirst({
    where: { memberId, withdrawnAt: null, sale: { firstDay: { lt: new Date(sale.firstDay) } } },
    select: { id: true },
  });
  const facts = { itemsEntered: 1, itemsLate: 0, firstSale: !earlier, shiftsMissed: 0 };
  return feesOf(fees, facts).find(({ kind }) => kind === "entry")?.amount ?? 0;
}

/** A place that is no sale of the guild: nothing is known but the percentage that is typed. */
export const elsewhere = (currency: string): PriceScene => ({
  ...{ rates: [], tax: 0, entryFee: 0 },
  card: firstPolicy(0).cardFee,
  prices: { priceStep: unitOf(currency), priceFloor: 1, currency },
});

/** How many pieces a member has entered for a sale, which share its entry fee. */
export const piecesEntered = async (db: Database, saleId: string, memberId: string) => {
  const sum = await db.item.aggregate({
    where: { saleId, memberId, withdrawnAt: null },
    _sum: { quantity: true },
  });
  return sum._sum.quantity ?? 0;
};
