import type { SaleChange } from "../contract/sale.ts";
import { canonical } from "../database/canonical.ts";
import type { Transaction } from "../database/client.ts";
import { type Deed, perform } from "../database/perform.ts";
import type { SaleRead } from "../database/sales.ts";
import { type FieldError, ok, problem, type Result, refuse } from "../rules/problem.ts";
import { checkSaleDates } from "../rules/sale-dates.ts";
import { allows } from "../rules/sale-stage.ts";
import { json, stored, taxErrors, unknownKind } from "./add-sale.ts";
import { changedMeanwhile, lockSale } from "./sale-lock.ts";

/** Prices and shares rest on these: once the tills sell, they stay. */
export const rateFields = ["tax", "cashStep", "cashFives", "priceStep", "priceFloor"] as const;

/** Changes a sale as far as its stage allows. */
export const editSale = (
  deed: Deed,
  id: string,
  change: SaleChange,
): Promise<Result<{ id: string; version: number }>> =>
  perform(
    deed,
    "edit-sale",
    { id, change },
    async (tx) => {
      const sale = await lockSale(tx, id);
      if (!sale.ok) return sale;
      if (sale.value.version !== change.version) return changedMeanwhile();
      const { timeZone } = await tx.guild.findFirstOrThrow();
      const refused = judgeChange(sale.value, change, timeZone);
      if (refused) return refused;
      await write(tx, sale.value, change);
      const fields = Object.keys(change).filter((field) => field !== "version");
      return ok({
        value: { id, version: change.version + 1 },
        subjectId: id,
        detail: { fields, ...ratesIn(change) },
      });
    },
    unknownKind,
  );

function judgeChange(sale: SaleRead, change: SaleChange, timeZone: string) {
  if (!allows(sale.stage, "edit-sale"))
    return refuse("stage-closed", "This sale is closed. What is written about it stays.");
  const frozen: FieldError[] = rateFields
    .filter(
      (field) => change[field] !== undefined && canonical(change[field]) !== canonical(sale[field]),
    )
    .map((field) => ({ field, message: "This stays as it was when selling began." }));
  if (frozen.length > 0 && !allows(sale.stage, "edit-sale-rates"))
    return refuse("stage-closed", "Rates and price rules stay once selling has begun.", frozen);
  const errors = [
    ...checkSaleDates({ ...sale, ...change }, timeZone),
    ...taxErrors(change.tax ?? sale.tax),
  ];
  if (errors[0])
    return { ok: false as const, problem: problem("invalid-input", errors[0].message, errors) };
  return undefined;
}

async function write(tx: Transaction, sale: SaleRead, change: SaleChange): Promise<void> {
  const { kindLimits, tax, version: _seen, ...fields } = change;
  await tx.sale.update({
    where: { id: sale.id },
    data: {
      ...fields,
      ...stored({ ...sale, ...change }),
      ...(tax ? { taxRules: json(tax) } : {}),
      version: { increment: 1 },
    },
  });
  if (!kindLimits) return;
  await tx.kindLimit.deleteMany({ where: { saleId: sale.id } });
  await tx.kindLimit.createMany({
    data: kindLimits.map((limit) => ({ saleId: sale.id, ...limit })),
  });
}

const ratesIn = (change: SaleChange): object =>
  Object.fromEntries(
    rateFields
      .filter((field) => change[field] !== undefined)
      .map((field) => [field, change[field]]),
  );
