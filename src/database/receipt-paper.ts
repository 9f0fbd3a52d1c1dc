import { formatMoney } from "../rules/currency.ts";
import { momentText } from "../rules/moment.ts";
import { showTag } from "../rules/tag-number.ts";
import { tenderWords } from "../rules/tender.ts";
import type { Database } from "./client.ts";
import { type ReceiptRead, readReceipt } from "./receipts.ts";

/** A receipt with every figure in the guild's way of writing, for paper and for the screen. */
export async function gatherReceipt(db: Database, id: string) {
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
      at: momentText(new Date(receipt.at), guild.locale, guild.timeZone),
      cashier: receipt.cashier,
      till: String(receipt.tillNumber),
      kind: receipt.kind,
      lines: receipt.lines.map((line) => shownLine(line, money)),
      subtotal: money(receipt.subtotal),
      taxLabel: sale.taxLabel,
      tax: money(receipt.tax),
      total: money(receipt.total),
      tenders: receipt.tenders.map(({ kind, amount, reference }) => ({
        label: tenderWords[kind],
        amount: money(amount),
        ...(reference ? { reference } : {}),
      })),
      ...(receipt.cashGiven > 0
        ? { cashGiven: money(receipt.cashGiven), change: money(receipt.change) }
        : {}),
      footer: sale.receiptFooter,
    },
  };
}

const shownLine = (line: ReceiptRead["lines"][number], money: (amount: number) => string) => ({
  tag: showTag(line.tag),
  description: line.description,
  quantity: String(line.quantity),
  unitPrice: money(line.unitPrice),
  amount: money(line.amount),
});
