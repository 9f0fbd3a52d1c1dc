import { formatMoney } from "../rules/currency.ts";
import {
  type PriceHelp,
  type PriceQuestion,
  type PriceScene,
  priceHelp,
} from "../rules/price/price-help.ts";
import { ok, type Result, refuseField } from "../rules/problem.ts";
import type { Database } from "./client.ts";
import { elsewhere, priceScene, saleToPrice } from "./price-scene.ts";
import { findSale, type SaleRead } from "./sales.ts";

/** The answer to a member's question, with the sale and the terms that it goes by. */
export interface HelpRead {
  sale: SaleRead | null;
  scene: PriceScene;
  help: PriceHelp;
}

/** Works out prices for one member; refuses what names no sale, no kind or no percentage. */
export async function helpWithPrice(
  db: Database,
  memberId: string,
  question: PriceQuestion,
): Promise<Result<HelpRead>> {
  const { currency, locale } = await db.guild.findFirstOrThrow();
  const { kind } = question;
  if (kind !== "" && !(await db.kind.findUnique({ where: { code: kind } })))
    return refuseField("kind", "Choose a kind from the guild's list.");
  const sale = await saleIn(db, question.sale);
  if (!sale && question.sale !== null && question.sale !== "none")
    return refuseField("sale", "Choose a sale from the list.");
  if (!sale && question.rate === null)
    return refuseField("rate", "Type the percentage that is kept there, or 0.");
  const scene = sale
    ? await priceScene(db, sale, { memberId, kind, currency })
    : elsewhere(currency);
  const help = priceHelp(question, scene, (amount) => formatMoney(amount, currency, locale));
  return ok({ sale, scene, help });
}

const saleIn = (db: Database, wanted: string | null): Promise<SaleRead | null> => {
  if (wanted === null) return saleToPrice(db);
  return wanted === "none" ? Promise.resolve(null) : findSale(db, wanted);
};
