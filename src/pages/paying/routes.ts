import type { App } from "../../plugins/types.ts";
import { bankPages } from "./bank-routes.ts";
import { runFilePages } from "./file-routes.ts";
import { runListPages } from "./list-routes.ts";
import { newRunPages } from "./new-routes.ts";
import { runPages } from "./run-routes.ts";
import { payingSettingsPages } from "./settings-routes.ts";
import { unclaimedPages } from "./unclaimed-routes.ts";

/** Paying members: accounts, runs that are prepared together, and money that waits. */
export async function payingPages(app: App): Promise<void> {
  await app.register(bankPages);
  await app.register(payingSettingsPages);
  await app.register(runListPages);
  await app.register(newRunPages);
  await app.register(runPages);
  await app.register(runFilePages);
  await app.register(unclaimedPages);
}
