import type { WarpSheet } from "../rules/weave/sheet.ts";
import type { Transaction } from "./client.ts";
import { literal } from "./search.ts";

/** A kept plan as its member reads it. */
export interface KeptSheet {
  id: string;
  name: string;
  sheet: WarpSheet;
  version: number;
  changedAt: string;
  putAwayAt: string | null;
}

export interface SheetFilter {
  memberId: string;
  q?: string;
  /** Those off the list instead of those on it. */
  putAway?: boolean;
}

const columns = {
  ...{ id: true, name: true, sheet: true, version: true },
  ...{ changedAt: true, putAwayAt: true },
} as const;

interface Row {
  id: string;
  name: string;
  sheet: unknown;
  version: number;
  changedAt: Date;
  putAwayAt: Date | null;
}

const shown = ({ sheet, changedAt, putAwayAt, ...row }: Row): KeptSheet => ({
  ...row,
  sheet: sheet as WarpSheet,
  changedAt: changedAt.toISOString(),
  putAwayAt: putAwayAt?.toISOString() ?? null,
});

const conditions = ({ memberId, q, putAway = false }: SheetFilter) => ({
  memberId,
  putAwayAt: putAway ? { not: null } : null,
  ...(q ? { name: { contains: literal(q), mode: "insensitive" as const } } : {}),
});

/** A member's sheets, the newest first. The ids count up with time, so a page never shifts. */
export async function listSheets(
  db: Transaction,
  filter: SheetFilter,
  page: { after?: string | undefined; limit: number },
) {
  const rows = await db.warpSheet.findMany({
    where: { ...conditions(filter), ...(page.after ? { id: { lt: page.after } } : {}) },
    select: columns,
    orderBy: { id: "desc" },
    take: page.limit + 1,
  });
  const items = rows.slice(0, page.limit).map(shown);
  return { items, next: rows.length > page.limit ? (items.at(-1)?.id ?? null) : null };
}

/** Whether there is any at all, so that an empty list knows what to say. */
export const countSheets = (db: Transaction, filter: SheetFilter): Promise<number> =>
  db.warpSheet.count({ where: conditions(filter) });

/** One sheet of this member; nobody's else is ever found. */
export async function findSheet(
  db: Transaction,
  memberId: string,
  id: string,
): Promise<KeptSheet | null> {
  const row = await db.warpSheet.findFirst({ where: { id, memberId }, select: columns });
  return row && shown(row);
}

/** The items that this member entered from a sheet, the newest first, by their sales. */
export const enteredFromSheet = (db: Transaction, memberId: string, sheetId: string) =>
  db.item.findMany({
    where: { memberId, withdrawnAt: null, making: { warpSheetId: sheetId } },
    select: {
      id: true,
      saleId: true,
      tag: true,
      description: true,
      quantity: true,
      piecesInSet: true,
      price: true,
    },
    orderBy: { number: "desc" },
    take: 200,
  });
