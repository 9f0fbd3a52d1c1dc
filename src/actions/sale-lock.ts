import type { Transaction } from "../database/client.ts";
import { findSale, type SaleRead } from "../database/sales.ts";
import { ok, type Result, refuse } from "../rules/problem.ts";

/** The sale, held so that it keeps its stage and figures until this deed is done. */
export async function lockSale(tx: Transaction, id: string): Promise<Result<SaleRead>> {
  await tx.$queryRaw`SELECT 1 FROM sale WHERE id = ${id}::uuid FOR UPDATE`;
  const sale = await findSale(tx, id);
  return sale ? ok(sale) : refuse("not-found", "There is no such sale.");
}

export const changedMeanwhile = () =>
  refuse(
    "changed-meanwhile",
    "Nothing of yours was recorded. Load the page again and repeat the change.",
  );
