import { openDatabase, type Transaction } from "../../database/client.ts";

/**
 * The demo plays last year's sale now and then moves its dates back. Only the owner of the
 * database can do that, with the guards switched off for one transaction; the service itself
 * cannot, and nothing but dates changes.
 */
async function asOwner(ownerUrl: string, work: (tx: Transaction) => Promise<unknown>) {
  const db = openDatabase(ownerUrl, 1);
  try {
    await db.$transaction(
      async (tx) => {
        await tx.$executeRaw`SET LOCAL session_replication_role = replica`;
        await work(tx);
      },
      { timeout: 30_000 },
    );
  } finally {
    await db.$disconnect();
  }
}

const weeksBefore = (day: Date, weeks: number): Date =>
  new Date(day.getTime() - weeks * 7 * 86_400_000);

/** Entries some weeks ahead, receipts one after the other over three days from ten to six. */
export const turnBackSale = (ownerUrl: string, saleId: string, firstDay: Date): Promise<void> =>
  asOwner(ownerUrl, async (tx) => {
    const entries = weeksBefore(firstDay, 4);
    const opening = new Date(`${firstDay.toISOString().slice(0, 10)}T16:00:00Z`);
    await tx.$executeRaw`UPDATE sale SET first_day = first_day - 364, last_day = last_day - 364, created_at = ${weeksBefore(firstDay, 12)}, entry_deadline = ${weeksBefore(firstDay, 1)} WHERE id = ${saleId}::uuid`;
    await tx.$executeRaw`UPDATE sale_policy SET at = ${weeksBefore(firstDay, 11)} WHERE sale_id = ${saleId}::uuid`;
    await tx.$executeRaw`
      UPDATE shift SET starts_at = starts_at - interval '364 days', created_at = ${entries},
        marked_at = marked_at - interval '364 days' WHERE sale_id = ${saleId}::uuid`;
    await tx.$executeRaw`UPDATE item SET entered_at = ${entries} WHERE sale_id = ${saleId}::uuid`;
    await tx.$executeRaw`UPDATE acceptance SET at = ${entries} WHERE sale_id = ${saleId}::uuid`;
    await tx.$executeRaw`
      UPDATE stage_change SET at = CASE to_stage WHEN 'selling' THEN ${opening}::timestamptz
        WHEN 'settling' THEN ${opening}::timestamptz + interval '3 days' ELSE ${entries}::timestamptz END
      WHERE sale_id = ${saleId}::uuid`;
    await tx.$executeRaw`UPDATE check_in SET at = ${weeksBefore(firstDay, 0)} WHERE item_id IN (SELECT id FROM item WHERE sale_id = ${saleId}::uuid)`;
    await tx.$executeRaw`
      UPDATE movement SET at = CASE kind WHEN 'checked-in' THEN ${opening}::timestamptz - interval '2 hours'
        ELSE ${entries}::timestamptz END
      WHERE item_id IN (SELECT id FROM item WHERE sale_id = ${saleId}::uuid)`;
    await tx.$executeRaw`
      WITH placed AS (
        SELECT id, (row_number() OVER (ORDER BY number) - 1)::float8 / count(*) OVER () * 3 AS place
        FROM journal_entry WHERE sale_id = ${saleId}::uuid)
      UPDATE journal_entry e SET at = ${opening}::timestamptz
        + make_interval(days => floor(p.place)::integer, secs => (p.place - floor(p.place)) * 28800)
      FROM placed p WHERE p.id = e.id`;
    await tx.$executeRaw`
      UPDATE receipt r SET at = e.at, made_at = e.at FROM journal_entry e
      WHERE e.kind = 'receipt' AND e.subject_id = r.id AND r.sale_id = ${saleId}::uuid`;
    await tx.$executeRaw`
      UPDATE movement m SET at = r.at FROM receipt_line l JOIN receipt r ON r.id = l.receipt_id
      WHERE m.receipt_line_id = l.id AND r.sale_id = ${saleId}::uuid`;
    await tx.$executeRaw`
      UPDATE till_session s SET opened_at = ${opening}, closed_at = c.latest
      FROM (SELECT till_session_id, max(at) AS latest FROM receipt WHERE sale_id = ${saleId}::uuid GROUP BY 1) c
      WHERE c.till_session_id = s.id`;
    await tx.$executeRaw`
      UPDATE cash_up u SET at = s.closed_at FROM till_session s JOIN till t ON t.id = s.till_id
      WHERE s.id = u.till_session_id AND t.sale_id = ${saleId}::uuid`;
  });

/** The settlement four days after the sale, the cheques in the week after. */
export const turnBackSettlement = (
  ownerUrl: string,
  saleId: string,
  firstDay: Date,
): Promise<void> =>
  asOwner(ownerUrl, async (tx) => {
    const settled = new Date(firstDay.getTime() + 7 * 86_400_000);
    const paid = new Date(firstDay.getTime() + 10 * 86_400_000);
    await tx.$executeRaw`UPDATE adjustment SET at = ${settled} WHERE sale_id = ${saleId}::uuid`;
    await tx.$executeRaw`UPDATE settlement SET at = ${settled} WHERE sale_id = ${saleId}::uuid`;
    await tx.$executeRaw`
      UPDATE statement SET heading = jsonb_set(heading, '{yearToDate,year}', to_jsonb(${settled.getUTCFullYear()}::integer))
      WHERE settlement_id IN (SELECT id FROM settlement WHERE sale_id = ${saleId}::uuid)`;
    await tx.$executeRaw`
      UPDATE payout SET at = ${paid} WHERE statement_id IN (
        SELECT s.id FROM statement s JOIN settlement e ON e.id = s.settlement_id WHERE e.sale_id = ${saleId}::uuid)`;
    await tx.$executeRaw`
      UPDATE journal_entry SET at = CASE kind WHEN 'payout' THEN ${paid}::timestamptz ELSE ${settled}::timestamptz END
      WHERE sale_id = ${saleId}::uuid AND kind IN ('deposit', 'card-total', 'adjustment', 'settlement', 'payout')`;
    await tx.$executeRaw`UPDATE stage_change SET at = ${paid} WHERE sale_id = ${saleId}::uuid AND to_stage = 'closed'`;
  });
