import type { Transaction } from "./client.ts";

export interface OwnStock {
  id: string;
  name: string;
  shape: object;
  version: number;
}

const columns = { id: true, name: true, shape: true, version: true } as const;

/** The guild's own stocks that are in use, by name. */
export async function listLabelStocks(db: Transaction): Promise<OwnStock[]> {
  const rows = await db.labelStock.findMany({
    where: { retiredAt: null },
    orderBy: [{ name: "asc" }, { id: "asc" }],
    select: columns,
  });
  return rows as OwnStock[];
}

export async function findLabelStock(db: Transaction, id: string): Promise<OwnStock | null> {
  const row = await db.labelStock.findFirst({ where: { id, retiredAt: null }, select: columns });
  return row as OwnStock | null;
}

export interface PrinterRead {
  id: string;
  name: string;
  /** Thousandths of a millimetre to the right and down. */
  nudgeX: number;
  nudgeY: number;
  /** Thousandths: 1000 prints as it is. */
  scaleX: number;
  scaleY: number;
  version: number;
}

const printerColumns = {
  id: true,
  name: true,
  nudgeX: true,
  nudgeY: true,
  scaleX: true,
  scaleY: true,
  version: true,
} as const;

export const listPrinters = (db: Transaction): Promise<PrinterRead[]> =>
  db.printer.findMany({
    where: { retiredAt: null },
    orderBy: [{ name: "asc" }, { id: "asc" }],
    select: printerColumns,
  });

export const findPrinter = (db: Transaction, id: string): Promise<PrinterRead | null> =>
  db.printer.findFirst({ where: { id, retiredAt: null }, select: printerColumns });
