import { formatMoney } from "../rules/currency.ts";
import { momentText } from "../rules/moment.ts";
import { total } from "../rules/money.ts";
import { showTag } from "../rules/tag-number.ts";
import { tenderWords } from "../rules/tender.ts";
import type { Database } from "./client.ts";
import { type ReceiptRead, readReceipt } from "./receipts.ts";

/** A receipt with every figure in the guild's way of writing, for paper and for the screen. */
export async function gatherReceipt(db: Database, id: string, copy = false) {
  const receipt = await readReceipt(db, id);
  if (!receipt) return undefined;
  const guild = await db.guild.findFirstOrThrow();
  const sale = await db.sale.findUniqueOrThrow({ where: { id: receipt.saleId } });
  const money = (amount: number) => formatMoney(amount, guild.currency, guild.locale);
  return {
    receipt,
    createdAt: new Date(receipt.at),
    paper: {
      guildName: guild.name,
      guildLines: guild.address.split("\n").filter(Boolean),
      saleName: sale.name,
      receiptNumber: receipt.name,
      at: momentText(new Date(receipt.madeAt), guild.locale, guild.timeZone),
      cashier: receipt.cashier,
      till: String(receipt.tillNumber),
      kind: receipt.kind,
      lines: receipt.lines.map((line) => shownLine(line, money)),
      ...sumsOf(receipt, money),
      total: money(receipt.total),
      ...(receipt.exemption ? { exemption: receipt.exemption } : {}),
      tenders: receipt.tenders.map(({ kind, amount, reference }) => ({
        label: kind === "exchange" ? "Exchange" : tenderWords[kind],
        amount: money(amount),
        ...(reference ? { reference } : {}),
      })),
      ...(receipt.cashGiven > 0
        ? { cashGiven: money(receipt.cashGiven), change: money(receipt.change) }
        : {}),
      ...(receipt.rounding === 0 ? {} : { rounding: money(receipt.rounding) }),
      copy,
      footer: sale.receiptFooter,
    },
  };
}

type Money = (amount: number) => string;

/** How the lines come to the total, and the taxes that are in it. */
function sumsOf({ lines, taxes, subtotal }: ReceiptRead, money: Money) {
  const discount = total(lines.map((line) => line.discount));
  const inside = lines.some(({ taxInside }) => taxInside !== 0);
  const gross = total(lines.map(({ unitPrice, quantity }) => unitPrice * quantity));
  const named = (label: string, amount: number) => ({ label, amount: money(amount) });
  const off = [named("By the tags", gross), named("Marked down", 0 - discount)];
  const added = [named("Before tax", subtotal), ...taxes.map(({ name, tax }) => named(name, tax))];
  return {
    sums: [...(discount === 0 ? [] : off), ...(inside || taxes.length === 0 ? [] : added)],
    inside: inside ? taxes.map(({ name, tax }) => named(`${name} in it`, tax)) : [],
  };
}

const shownLine = (line: ReceiptRead["lines"][number], money: Money) => ({
  tag: line.tag ? showTag(line.tag) : "",
  description: line.description,
  quantity: String(line.quantity),
  unitPrice: money(line.unitPrice),
  amount: money(line.unitPrice * line.quantity),
  ...(line.priceReason ? { note: `Price by the tag: ${line.priceReason}` } : {}),
});
