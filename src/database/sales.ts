import type { CashRounding } from "../rules/cash-rounding.ts";
import type { Policy } from "../rules/policy/policy.ts";
import type { Stage } from "../rules/sale-stage.ts";
import type { TaxRules } from "../rules/tax/tax-rules.ts";
import type { Database, Transaction } from "./client.ts";
import { literal } from "./search.ts";

/** A sale with plain numbers and texts: days "YYYY-MM-DD", money in smallest coins. */
export interface SaleRead {
  id: string;
  name: string;
  place: string;
  firstDay: string;
  lastDay: string;
  entryDeadline: string;
  /** The ordinary percentage of the policy that holds, in thousandths of a percent. */
  guildRate: number;
  tax: TaxRules;
  cashStep: CashRounding["step"];
  cashFives: CashRounding["fives"];
  markdownRate: number;
  markdownFrom: string | null;
  priceStep: number;
  priceFloor: number;
  itemLimit: number | null;
  kindLimits: { kindId: string; most: number }[];
  receiptFooter: string;
  agreementVersion: number;
  stage: Stage;
  version: number;
}

interface Row
  extends Omit<
    SaleRead,
    | "firstDay"
    | "lastDay"
    | "entryDeadline"
    | "priceStep"
    | "priceFloor"
    | "stage"
    | "tax"
    | "cashStep"
    | "cashFives"
    | "markdownFrom"
    | "guildRate"
  > {
  firstDay: Date;
  lastDay: Date;
  entryDeadline: Date;
  priceStep: bigint;
  priceFloor: bigint;
  stage: string;
  taxRules: unknown;
  cashStep: number;
  cashFives: string;
  markdownFrom: Date | null;
  createdAt: Date;
  policies: { policy: unknown }[];
}

const read = ({ createdAt: _unused, taxRules, policies, ...row }: Row): SaleRead => ({
  ...row,
  guildRate: (policies[0]!.policy as Policy).rates.ordinary,
  firstDay: row.firstDay.toISOString().slice(0, 10),
  lastDay: row.lastDay.toISOString().slice(0, 10),
  entryDeadline: row.entryDeadline.toISOString(),
  priceStep: Number(row.priceStep),
  priceFloor: Number(row.priceFloor),
  stage: row.stage as Stage,
  tax: taxRules as TaxRules,
  cashStep: row.cashStep as CashRounding["step"],
  cashFives: row.cashFives as CashRounding["fives"],
  markdownFrom: row.markdownFrom?.toISOString() ?? null,
});

const include = {
  kindLimits: { select: { kindId: true, most: true } },
  policies: { select: { policy: true }, orderBy: { version: "desc" }, take: 1 },
} as const;

/** Sales, the newest first. */
export async function listSales(
  db: Database,
  { q, after, limit }: { q?: string | undefined; after?: string | undefined; limit: number },
) {
  const contains = { contains: literal(q ?? ""), mode: "insensitive" as const };
  const rows = await db.sale.findMany({
    where: {
      ...(q ? { OR: [{ name: contains }, { place: contains }] } : {}),
      ...(after ? { id: { lt: after } } : {}),
    },
    orderBy: { id: "desc" },
    take: limit + 1,
    include,
  });
  const items = rows.slice(0, limit).map(read);
  return { items, next: rows.length > limit ? (items.at(-1)?.id ?? null) : null };
}

export async function findSale(db: Database | Transaction, id: string): Promise<SaleRead | null> {
  const row = await db.sale.findUnique({ where: { id }, include });
  return row && read(row);
}

/**
 * The sales the guild is busy with, the newest first: neither in planning nor closed. While one
 * is still being settled, the next may already take entries.
 */
export async function busySales(db: Database): Promise<SaleRead[]> {
  const rows = await db.sale.findMany({
    where: { stage: { notIn: ["planning", "closed"] } },
    orderBy: { id: "desc" },
    take: 5,
    include,
  });
  return rows.map(read);
}

/** Every till of a sale, and whether it is open at this moment. */
export async function listTills(db: Database, saleId: string) {
  const rows = await db.till.findMany({
    where: { saleId },
    orderBy: { number: "asc" },
    include: { sessions: { where: { closedAt: null }, select: { id: true } } },
  });
  return rows.map(({ id, number, name, sessions }) => ({
    id,
    number,
    name,
    open: sessions.length > 0,
  }));
}

/** The newest sale that is still being planned. */
export async function plannedSale(db: Database): Promise<SaleRead | null> {
  const row = await db.sale.findFirst({
    where: { stage: "planning" },
    orderBy: { id: "desc" },
    include,
  });
  return row && read(row);
}
