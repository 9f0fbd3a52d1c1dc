import type { Transaction } from "../../database/client.ts";
import { hindrancesOf } from "../../database/hindrances.ts";
import { type Problem, problem } from "../../rules/problem.ts";

/** Why a sale cannot be settled yet: the first of what must be done before, or undefined. */
export async function firstMustBeDone(
  tx: Transaction,
  saleId: string,
): Promise<Problem | undefined> {
  const first = (await hindrancesOf(tx, saleId)).find(({ must }) => must);
  return first && problem("still-open", `Nothing was settled. ${first.words}`);
}
