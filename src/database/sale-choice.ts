import type { Stage } from "../rules/sale-stage.ts";
import type { Transaction } from "./client.ts";
import { findSale, type SaleRead } from "./sales.ts";

const newestFirst = [{ firstDay: "desc" as const }, { id: "desc" as const }];

async function newestAt(db: Transaction, stages: readonly Stage[]): Promise<SaleRead | null> {
  const found = await db.sale.findFirst({
    where: { stage: { in: [...stages] } },
    orderBy: newestFirst,
    select: { id: true },
  });
  return found && findSale(db, found.id);
}

/** The sale a member enters pieces for: the newest with open entries, else the newest not closed. */
export const entrySale = async (db: Transaction): Promise<SaleRead | null> =>
  (await newestAt(db, ["entries-open"])) ??
  newestAt(db, ["planning", "entries-closed", "selling", "settling"]);

/** The sale at whose desk pieces come and go; before and after that, the members' own one. */
export const deskSale = async (db: Transaction): Promise<SaleRead | null> =>
  (await newestAt(db, ["entries-closed", "selling", "settling"])) ?? entrySale(db);

/** Every sale in which a member has entered something, the newest first. */
export const salesOfMember = (db: Transaction, memberId: string) =>
  db.sale.findMany({
    where: { items: { some: { memberId } } },
    orderBy: newestFirst,
    select: { id: true, name: true },
    take: 100,
  });
