import type { DepositSource } from "../../rules/bank-entries.ts";
import type { Database } from "../client.ts";
import { literal } from "../search.ts";

interface Recorded {
  id: string;
  reference: string;
  /** The day as "2026-11-30". */
  day: string;
  voidedBecause: string | null;
}

export interface DepositRead extends Recorded {
  source: DepositSource;
  amount: number;
}

export interface CardTotalRead extends Recorded {
  /** The till's number, or null for all tills together. */
  till: number | null;
  gross: number;
  fee: number;
}

interface Page {
  /** A part of the reference. */
  q?: string | undefined;
  after?: string | undefined;
  limit: number;
}

/** The newest first; the cursor is the last id of the page before. */
const pageOf = (saleId: string, { q, after, limit }: Page) => ({
  where: {
    saleId,
    ...(q ? { reference: { contains: literal(q), mode: "insensitive" as const } } : {}),
    ...(after ? { id: { lt: after } } : {}),
  },
  orderBy: { id: "desc" as const },
  take: limit + 1,
});

const paged = <T extends { id: string }>(rows: T[], limit: number) => {
  const items = rows.slice(0, limit);
  return { items, next: rows.length > limit ? (items.at(-1)?.id ?? null) : null };
};

const dayOf = (day: Date): string => day.toISOString().slice(0, 10);

/** What was taken to the bank, the void ones with their reason. */
export async function listDeposits(db: Database, saleId: string, page: Page) {
  const rows = await db.deposit.findMany({ ...pageOf(saleId, page), include: { voided: true } });
  const read = rows.map(
    ({ id, source, amount, reference, bankedOn, voided }): DepositRead => ({
      ...{
        id,
        source: source as DepositSource,
        reference,
        day: dayOf(bankedOn),
        amount: Number(amount),
      },
      voidedBecause: voided?.reason ?? null,
    }),
  );
  return paged(read, page.limit);
}

/** What the terminal said, the void ones with their reason. */
export async function listCardTotals(db: Database, saleId: string, page: Page) {
  const include = { voided: true, till: true };
  const rows = await db.cardTotal.findMany({ ...pageOf(saleId, page), include });
  const read = rows.map(
    ({ id, till, gross, fee, reference, day, voided }): CardTotalRead => ({
      ...{ id, reference, day: dayOf(day), gross: Number(gross), fee: Number(fee) },
      till: till?.number ?? null,
      voidedBecause: voided?.reason ?? null,
    }),
  );
  return paged(read, page.limit);
}
