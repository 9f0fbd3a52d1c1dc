import type { App } from "../plugins/types.ts";
import { accountPages } from "./account/routes.ts";
import { auditPages } from "./audit/routes.ts";
import { pricePages } from "./bench/price-routes.ts";
import { sheetPages } from "./bench/sheet-routes.ts";
import { soldPages } from "./bench/sold-routes.ts";
import { booksPages } from "./books/routes.ts";
import { checkInPages } from "./check-in/routes.ts";
import { deskPages } from "./desk/routes.ts";
import { figurePages } from "./figures/routes.ts";
import { guildPages } from "./guild/routes.ts";
import { helpPages } from "./help/routes.ts";
import { homePages } from "./home/routes.ts";
import { itemPages } from "./items/routes.ts";
import { stopPages } from "./letters/stop-routes.ts";
import { memberPages } from "./members/routes.ts";
import { payingPages } from "./paying/routes.ts";
import { policyPages } from "./policy/routes.ts";
import { reversalPages } from "./receipts/reversals.ts";
import { receiptPages } from "./receipts/routes.ts";
import { referencePages } from "./reference/routes.ts";
import { resultsPages } from "./results/routes.ts";
import { salePages } from "./sales/routes.ts";
import { sellerPages } from "./sellers/routes.ts";
import { setUpPages } from "./set-up/routes.ts";
import { shiftPages } from "./shifts/routes.ts";
import { signInPages } from "./sign-in/routes.ts";
import { stockPages } from "./stocks/routes.ts";
import { tagPages } from "./tags/routes.ts";
import { cashMovePages } from "./till/cash-moves.ts";
import { cashUpPages } from "./till/cash-up.ts";
import { cashedUpPages } from "./till/cashed-up.ts";
import { tillPages } from "./till/routes.ts";
import { shellPages } from "./till/shell.ts";

/** Every place of the site, in the order of the work. */
export async function pages(app: App): Promise<void> {
  // A form sends texts. JSON could put anything in their place, and the API is there for it.
  app.removeContentTypeParser(["application/json", "text/plain"]);
  // A form sent without any field is an empty form, not a fault.
  app.addHook("preHandler", async (request) => {
    request.body ??= {};
  });
  await app.register(signInPages);
  await app.register(setUpPages);
  await app.register(accountPages);
  await app.register(stopPages);
  await app.register(homePages);
  await app.register(itemPages);
  await app.register(sheetPages);
  await app.register(pricePages);
  await app.register(tagPages);
  await app.register(stockPages);
  await app.register(deskPages);
  await app.register(salePages);
  await app.register(policyPages);
  await app.register(shiftPages);
  await app.register(checkInPages);
  await app.register(sellerPages);
  await app.register(memberPages);
  await app.register(helpPages);
  await app.register(guildPages);
  await app.register(auditPages);
  await app.register(referencePages);
  await app.register(shellPages);
  await app.register(tillPages);
  await app.register(cashMovePages);
  await app.register(cashUpPages);
  await app.register(cashedUpPages);
  await app.register(receiptPages);
  await app.register(reversalPages);
  await app.register(booksPages);
  await app.register(figurePages);
  await app.register(payingPages);
  await app.register(resultsPages);
  await app.register(soldPages);
}
