import type { ReceiptInput } from "../contract/receipt.ts";
import type { ReceiptFact } from "../contract/till-fact.ts";
import type { Database } from "../database/client.ts";
import type { Deed } from "../database/perform.ts";
import { type ReceiptRead, readReceipt } from "../database/receipts.ts";
import { type Result, refuse } from "../rules/problem.ts";

/**
 * The id of a recorded receipt came with other content. What was recorded stays; both versions
 * are kept for the treasurer, and whoever sent it is told.
 */
export async function keepBothVersions(
  { db, actor, requestId }: Deed,
  sent: ReceiptInput & { saleId: string },
  fingerprint: string,
): Promise<Result<never>> {
  const recorded = await differing({ db, requestId, byId: actor.id }, sent, fingerprint);
  return refuse(
    "key-reused",
    `Receipt ${recorded.name} was recorded under this id with other content. It stays as it was, and both versions are kept for the treasurer.`,
  );
}

/** Keeps both versions, once for each version that came, and gives back what was recorded. */
export async function differing(
  { db, requestId, byId }: { db: Database; requestId: string; byId: string },
  sent: ReceiptInput | ReceiptFact,
  fingerprint: string,
): Promise<ReceiptRead> {
  const recorded = await readReceipt(db, sent.id);
  if (!recorded) throw new Error(`Receipt ${sent.id} was found and then was not there`);
  const detail = JSON.stringify({ fingerprint, recorded, sent });
  await db.$executeRaw`
    WITH kept AS (
      INSERT INTO discrepancy (sale_id, kind, receipt_id, detail, by_id)
      SELECT ${recorded.saleId}::uuid, 'receipt-differs', ${sent.id}::uuid, ${detail}::jsonb, ${byId}::uuid
      WHERE NOT EXISTS (SELECT 1 FROM discrepancy
        WHERE receipt_id = ${sent.id}::uuid AND detail->>'fingerprint' = ${fingerprint})
      RETURNING id)
    INSERT INTO audit (deed, subject_id, detail, by_id, request_id)
    SELECT 'keep-both-versions', ${sent.id}, jsonb_build_object('discrepancy', id), ${byId}::uuid, ${requestId}
    FROM kept`;
  return recorded;
}
