import { v7 } from "uuid";
import { cashUp } from "../../actions/cash-up.ts";
import { openTill } from "../../actions/open-till.ts";
import { recordReceipt } from "../../actions/record-receipt.ts";
import { returnGoods } from "../../actions/return-goods.ts";
import { voidReceipt } from "../../actions/void-receipt.ts";
import type { Database } from "../../database/client.ts";
import { dayIn } from "../../rules/day.ts";
import { markdownAt } from "../../rules/markdown-time.ts";
import { totalsOf } from "../../rules/receipt.ts";
import type { TaxRules } from "../../rules/tax/tax-rules.ts";
import type { TenderInput } from "../../rules/tender.ts";
import type { Dice } from "./dice.ts";
import { type Cast, must } from "./guild.ts";
import { guild } from "./people.ts";

export interface Day {
  saleId: string;
  tills: string[];
  onFloor: string[];
  /** Out of a hundred tags on the floor, how many find a buyer. */
  sold: number;
}

const float = 10_000;

/** The tills open, customers come with one to four pieces, and a few bring something back. */
export async function sell(db: Database, cast: Cast, dice: Dice, day: Day): Promise<string[]> {
  const cashiers = [cast.the("cashier"), cast.the("cashier", 1)];
  for (const [index, tillId] of day.tills.entries())
    must(await openTill(cast.as(cashiers[index % 2] ?? cast.the("cashier")), { tillId, float }));
  const wanted = dice.shuffle(day.onFloor).filter(() => dice.chance(day.sold));
  const receipts: string[] = [];
  while (wanted.length > 0) {
    const tags = wanted.splice(0, dice.between(1, 4));
    const at = receipts.length % day.tills.length;
    const cashier = cashiers[at % 2] ?? cast.the("cashier");
    receipts.push(
      await ringUp(db, cast, dice, {
        saleId: day.saleId,
        tillId: day.tills[at] as string,
        tags,
        cashier,
      }),
    );
  }
  await changeMinds(db, cast, receipts);
  return receipts;
}

interface Basket {
  saleId: string;
  tillId: string;
  tags: string[];
  cashier: ReturnType<Cast["the"]>;
}

async function ringUp(
  db: Database,
  cast: Cast,
  dice: Dice,
  { saleId, tillId, tags, cashier }: Basket,
): Promise<string> {
  const sale = await db.sale.findUniqueOrThrow({ where: { id: saleId } });
  const items = await db.item.findMany({
    where: { tag: { in: tags } },
    include: { kind: true },
  });
  const lines = items.map(({ tag, quantity }) => ({
    kind: "item" as const,
    tag,
    quantity: quantity > 1 ? dice.between(1, quantity) : 1,
  }));
  const basket = items.map(({ tag, price, donated, kind, markdown }, index) => ({
    ...{ kind: "item" as const, key: tag, tag, description: "", taxKind: kind.code, donated },
    ...{
      unitPrice: Number(price),
      quantity: lines[index]?.quantity ?? 1,
      markdownAllowed: markdown,
    },
  }));
  const terms = { ...sale, markdownFrom: sale.markdownFrom?.toISOString() ?? null };
  const now = new Date();
  const { total } = totalsOf(basket, {
    tax: sale.taxRules as unknown as TaxRules,
    day: dayIn(now, guild.timeZone),
    exempt: false,
    markdownRate: markdownAt(terms, now.getTime()),
  });
  const id = v7();
  must(
    await recordReceipt(cast.as(cashier), {
      id,
      saleId,
      tillId,
      lines,
      exemption: "",
      total,
      tenders: pay(dice, total),
    }),
  );
  return id;
}

/** About as people pay at a hall (common practice, no source): most by card, many in notes. */
function pay(dice: Dice, total: number): TenderInput[] {
  const slip = () => `slip ${dice.between(1000, 9999)}`;
  if (dice.chance(45)) return [{ kind: "card", amount: total, reference: slip() }];
  if (dice.chance(20))
    return [{ kind: "cheque", amount: total, reference: String(dice.between(101, 999)) }];
  if (dice.chance(10) && total > 4_000)
    return [
      { kind: "card", amount: total - 2_000, reference: slip() },
      { kind: "cash", amount: 2_000 },
    ];
  return [{ kind: "cash", amount: Math.ceil(total / 2_000) * 2_000 }];
}

/** One receipt is called off before cash-up, and two customers bring a piece back. */
async function changeMinds(db: Database, cast: Cast, receipts: string[]): Promise<void> {
  const [first, second, third] = [receipts[3], receipts[8], receipts[15]];
  const cashier = cast.as(cast.the("cashier"));
  if (first)
    must(await voidReceipt(cashier, { receiptId: first, reason: "Rung up twice by mistake" }));
  for (const receiptId of [second, third]) {
    if (!receiptId) continue;
    const receipt = await db.receipt.findUniqueOrThrow({
      where: { id: receiptId },
      include: { lines: true },
    });
    const line = receipt.lines[0];
    if (!line) continue;
    must(
      await returnGoods(cashier, {
        receiptId,
        tillId: receipt.tillId,
        lines: [{ lineId: line.id, quantity: 1, goesTo: "floor" }],
        tender: { kind: "card", reference: "slip 5005" },
        reason: "The colour did not suit at home",
      }),
    );
  }
}

/** Two people count each drawer; one of them is a little short. */
export async function cashUpAll(db: Database, cast: Cast, tills: string[]): Promise<void> {
  for (const [index, tillId] of tills.entries()) {
    const drawer = await db.posting.aggregate({
      where: { accountKey: `drawer/${tillId}` },
      _sum: { amount: true },
    });
    const counted = Number(drawer._sum.amount ?? 0n) - (index === 0 ? 25 : 0);
    must(
      await cashUp(cast.as(cast.the("cashier")), {
        tillId,
        counted,
        witness: cast.the("treasurer").name,
        note: "",
      }),
    );
  }
}
