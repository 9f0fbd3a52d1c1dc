import type { App } from "../../plugins/types.ts";
import { bankingPages } from "./banking-routes.ts";
import { cardTotalPages } from "./card-total-routes.ts";
import { depositPages } from "./deposit-routes.ts";
import { incomePages } from "./income-routes.ts";
import { payablePages } from "./payable-routes.ts";
import { rowPages } from "./row-routes.ts";
import { takingsPages } from "./takings-routes.ts";
import { taxPages } from "./tax-routes.ts";
import { thresholdPages } from "./threshold-routes.ts";
import { yearPages } from "./year-routes.ts";

/** The guild's own figures: each total beside what the ledger says, each line leading to its rows. */
export async function figurePages(app: App): Promise<void> {
  await app.register(takingsPages);
  await app.register(rowPages);
  await app.register(taxPages);
  await app.register(bankingPages);
  await app.register(depositPages);
  await app.register(cardTotalPages);
  await app.register(incomePages);
  await app.register(payablePages);
  await app.register(yearPages);
  await app.register(thresholdPages);
}
