import swagger from "@fastify/swagger";
import {
  createJsonSchemaTransform,
  serializerCompiler,
  validatorCompiler,
} from "fastify-type-provider-zod";
import { RefusedRequest } from "../plugins/errors.ts";
import type { App, Request } from "../plugins/types.ts";
import { problem } from "../rules/problem.ts";
import { adjustmentApi } from "./adjustments.ts";
import { auditApi } from "./audit.ts";
import { bankingApi } from "./banking.ts";
import { booksApi } from "./books.ts";
import { checkInTimeApi } from "./check-in-times.ts";
import { deskApi } from "./desk.ts";
import { apiDocument } from "./document.ts";
import { draftApi } from "./drafts.ts";
import { exportApi } from "./exports.ts";
import { figuresApi } from "./figures.ts";
import { guildApi } from "./guild.ts";
import { guildGoodsApi } from "./guild-goods.ts";
import { hindranceApi } from "./hindrances.ts";
import { itemListApi } from "./item-lists.ts";
import { itemApi } from "./items.ts";
import { kindApi } from "./kinds.ts";
import { labelStockApi } from "./label-stocks.ts";
import { labelApi } from "./labels.ts";
import { leftPieceApi } from "./left-pieces.ts";
import { memberListApi } from "./member-list.ts";
import { memberApi } from "./members.ts";
import { ownLetterApi } from "./own-letters.ts";
import { ownShiftApi } from "./own-shifts.ts";
import { payingApi } from "./paying.ts";
import { payingRunApi } from "./paying-runs.ts";
import { photoApi } from "./photos.ts";
import { policyApi } from "./policies.ts";
import { priceHelpApi } from "./price-help.ts";
import { printApi } from "./prints.ts";
import { receiptMailApi } from "./receipt-mails.ts";
import { receiptApi } from "./receipts.ts";
import { resultsApi } from "./results.ts";
import { saleLetterApi } from "./sale-letters.ts";
import { salePartsApi } from "./sale-parts.ts";
import { saleApi } from "./sales.ts";
import { sellerApi } from "./sellers.ts";
import { sessionApi } from "./session.ts";
import { settlementApi } from "./settlements.ts";
import { shiftApi } from "./shifts.ts";
import { soldApi } from "./sold.ts";
import { statementMailApi } from "./statement-mails.ts";
import { statementApi } from "./statements.ts";
import { suspenseApi } from "./suspense.ts";
import { tagApi } from "./tags.ts";
import { tillDeviceApi } from "./till-device.ts";
import { tillDevicesApi } from "./till-devices.ts";
import { tillOutboxApi } from "./till-outbox.ts";
import { tillApi } from "./tills.ts";
import { unclaimedApi } from "./unclaimed.ts";
import { unsentFileApi } from "./unsent-file.ts";
import { usualPieceApi } from "./usual-pieces.ts";
import { warpSheetApi } from "./warp-sheets.ts";
import { yearApi } from "./year.ts";

const writes = new Set(["POST", "PUT", "PATCH", "DELETE"]);

/** Everything the pages do, as JSON; described by the same shapes that check it. */
export async function api(app: App): Promise<void> {
  app.setValidatorCompiler(validatorCompiler);
  app.setSerializerCompiler(serializerCompiler);
  await app.register(swagger, {
    openapi: apiDocument,
    transform: createJsonSchemaTransform({ skipList: [] }),
  });
  app.addHook("preValidation", async (request) => needKey(request));
  app.get("/openapi.json", { config: { access: "public" }, schema: { hide: true } }, async () =>
    app.swagger(),
  );
  await app.register(sessionApi);
  await app.register(guildApi);
  await app.register(saleApi);
  await app.register(salePartsApi);
  await app.register(policyApi);
  await app.register(shiftApi);
  await app.register(sellerApi);
  await app.register(ownShiftApi);
  await app.register(checkInTimeApi);
  await app.register(ownLetterApi);
  await app.register(saleLetterApi);
  await app.register(memberApi);
  await app.register(memberListApi);
  await app.register(kindApi);
  await app.register(auditApi);
  await app.register(itemApi);
  await app.register(warpSheetApi);
  await app.register(priceHelpApi);
  await app.register(photoApi);
  await app.register(draftApi);
  await app.register(itemListApi);
  await app.register(usualPieceApi);
  await app.register(labelApi);
  await app.register(labelStockApi);
  await app.register(printApi);
  await app.register(tagApi);
  await app.register(deskApi);
  await app.register(leftPieceApi);
  await app.register(tillApi);
  await app.register(tillDevicesApi);
  await app.register(tillDeviceApi);
  await app.register(tillOutboxApi);
  await app.register(unsentFileApi);
  await app.register(suspenseApi);
  await app.register(guildGoodsApi);
  await app.register(receiptApi);
  await app.register(receiptMailApi);
  await app.register(hindranceApi);
  await app.register(settlementApi);
  await app.register(statementApi);
  await app.register(statementMailApi);
  await app.register(payingApi);
  await app.register(payingRunApi);
  await app.register(unclaimedApi);
  await app.register(adjustmentApi);
  await app.register(booksApi);
  await app.register(exportApi);
  await app.register(figuresApi);
  await app.register(bankingApi);
  await app.register(yearApi);
  await app.register(resultsApi);
  await app.register(soldApi);
}

/**
 * A write carries an Idempotency-Key: a quoted string, as the IETF draft of that header has it.
 * Sent again with the same key it is done once and answers the same.
 */
function needKey(request: Request): void {
  if (!writes.has(request.method) || request.routeOptions.config.keyless) return;
  const key = request.headers["idempotency-key"];
  if (typeof key === "string" && /^"[!#-~]{8,100}"$/.test(key)) return;
  const detail =
    'Send the header Idempotency-Key with 8 to 100 characters in double quotes, such as "0192-entry-1".';
  throw new RefusedRequest(
    problem("invalid-input", detail, [{ field: "Idempotency-Key", message: detail }]),
  );
}
