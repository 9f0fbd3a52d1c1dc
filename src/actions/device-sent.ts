import type { Transaction } from "../database/client.ts";
import { type Problem, problem } from "../rules/problem.ts";

interface Heard {
  device: string;
  number: number;
  unsent: number;
  lastNumber: number;
  highest: number;
}

/**
 * Refuses a cash-up while the till's own device may still keep receipts: it said so, or its last
 * number is not the server's. A device that is noted as lost sends nothing more and hinders nobody.
 */
export async function unsentOnDevice(
  tx: Transaction,
  tillId: string,
): Promise<Problem | undefined> {
  const rows = await tx.$queryRaw<Heard[]>`
    SELECT d.name AS device, t.number, d.unsent, d.last_number AS "lastNumber",
      (SELECT coalesce(max(r.number), 0) FROM receipt r WHERE r.till_id = t.id) AS highest
    FROM till_device d JOIN till t ON t.id = d.till_id
    WHERE d.till_id = ${tillId}::uuid AND d.lost_at IS NULL`;
  const heard = rows[0];
  if (!heard) return undefined;
  const { device, number, unsent, lastNumber, highest } = heard;
  if (unsent === 0 && lastNumber === highest) return undefined;
  const why =
    unsent > 0
      ? `keeps ${unsent} that it has not sent`
      : `counts to receipt ${lastNumber}, and ${highest} are here`;
  return problem(
    "still-open",
    `Till ${number} (${device}) ${why}. Nothing was counted yet. Open its page on line and wait until it says that all is sent. Is the device gone for good? Then the chair notes it as lost.`,
  );
}
