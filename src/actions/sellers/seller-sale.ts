import type { Transaction } from "../../database/client.ts";
import { policyOf } from "../../database/policies.ts";
import { ok, type Result, refuse, refuseField } from "../../rules/problem.ts";
import { allows } from "../../rules/sale-stage.ts";
import { shareSale } from "../lock-rows.ts";

/** The sale keeps its stage, and its policy must know the class that is given. */
export async function saleForTerms(
  tx: Transaction,
  saleId: string,
  classCode: string | null,
): Promise<Result<null>> {
  const sale = await shareSale(tx, saleId);
  if (!sale.ok) return sale;
  if (!allows(sale.value.stage, "set-terms"))
    return refuse("stage-closed", `${sale.value.name} is closed. Members' terms stay as they are.`);
  const { policy } = await policyOf(tx, saleId);
  const known = classCode === null || policy.rates.classes.some(({ code }) => code === classCode);
  return known ? ok(null) : refuseField("classCode", "The sale's policy has no such class.");
}
