import type { ReceiptRead } from "../../database/receipts.ts";
import { openTillsOf } from "../../database/tills.ts";
import type { App } from "../../plugins/types.ts";
import { formatMoney } from "../../rules/currency.ts";
import type { Problem } from "../../rules/problem.ts";
import { showTag } from "../../rules/tag-number.ts";
import { tenderKinds, tenderWords } from "../../rules/tender.ts";
import { fieldOf } from "./return-form.ts";

/** The form for a return, with the tills that can pay and the tender of the sale suggested. */
export async function returnPage(
  app: App,
  receipt: ReceiptRead,
  refused: { values?: unknown; problem?: Problem } = {},
) {
  const guild = await app.parts.db.guild.findFirstOrThrow();
  const tills = await openTillsOf(app.parts.db, receipt.saleId);
  const paidWith = receipt.tenders.length === 1 ? receipt.tenders[0]?.kind : "cash";
  return {
    title: `Return from receipt ${receipt.name}`,
    action: `/receipts/${receipt.id}/return`,
    receiptHref: `/receipts/${receipt.id}`,
    lines: receipt.lines.map((line) => lineView(line, guild)),
    tills: tills.map(({ id, number, name }) => ({
      value: id,
      label: name && name !== `Till ${number}` ? `Till ${number}, ${name}` : `Till ${number}`,
      selected: tills.length === 1 || id === receipt.tillId,
    })),
    tenders: tenderKinds.map((kind) => ({
      value: kind,
      label: tenderWords[kind],
      selected: kind === paidWith,
    })),
    ...refused,
  };
}

function lineView(
  line: ReceiptRead["lines"][number],
  { currency, locale }: { currency: string; locale: string },
) {
  const left = line.quantity - line.returned;
  const each = formatMoney(line.unitPrice, currency, locale);
  return {
    field: fieldOf(line.position),
    label: `${showTag(line.tag)} ${line.description}`,
    hint: left === 1 ? each : `${each} each; up to ${left} can come back.`,
    single: left === 1,
    gone: left === 0,
  };
}
