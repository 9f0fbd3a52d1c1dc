import { v7 } from "uuid";
import type { Transaction } from "../../database/client.ts";
import { writeEntry } from "../../database/journal-writing.ts";
import { adjustmentPostings } from "../../rules/ledger-entries.ts";
import { ok, type Result, refuse } from "../../rules/problem.ts";
import { allows } from "../../rules/sale-stage.ts";
import { shareSale } from "../lock-rows.ts";

export interface Adjusted {
  id: string;
  /** Above zero for the member. */
  amount: number;
}

interface AdjustmentRow {
  saleId: string;
  member: { id: string; number: number };
  amount: number;
  reason: string;
  byId: string;
  takesBackId?: string;
}

/** Keeps the sale from being settled meanwhile, when it may be adjusted. */
export async function saleToAdjust(tx: Transaction, saleId: string): Promise<Result<null>> {
  const sale = await shareSale(tx, saleId);
  if (!sale.ok) return sale;
  if (allows(sale.value.stage, "adjust")) return ok(null);
  const { name } = sale.value;
  return refuse(
    "stage-closed",
    `Adjustments are made while a sale is selling or settling, and ${name} is at another stage.`,
  );
}

/** The row and its entry in the journal, which belong together. */
export async function writeAdjustment(tx: Transaction, row: AdjustmentRow): Promise<Adjusted> {
  const { member, amount, ...rest } = row;
  const id = v7();
  await tx.adjustment.create({
    data: { id, memberId: member.id, amount: BigInt(amount), ...rest },
  });
  await writeEntry(tx, {
    kind: "adjustment",
    description: `Adjustment for member ${member.number}: ${row.reason}`,
    saleId: row.saleId,
    subjectId: id,
    byId: row.byId,
    postings: adjustmentPostings(member.id, amount),
  });
  return { id, amount };
}
