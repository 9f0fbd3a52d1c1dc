import { type CardMatch, matchCards } from "../../rules/card-match.ts";
import { localDayOf } from "../../rules/zoned-time.ts";
import type { Transaction } from "../client.ts";

/** Cash or cheques between the tills and the bank, as the ledger has them. */
export interface InHand {
  source: string;
  cameIn: number;
  /** Floats for the tills and payouts in cash; below zero when more came back. */
  givenOut: number;
  banked: number;
  still: number;
}

export interface DrawerCount {
  sessionId: string;
  till: number;
  at: Date;
  expected: number;
  counted: number;
  difference: number;
}

/** Everything that should have reached the bank, and whether it did. */
export interface Banking {
  drawers: DrawerCount[];
  /** Numbers of the tills that nobody has counted yet. */
  openTills: number[];
  inHand: InHand[];
  cards: CardMatch[];
  card: { recorded: number; terminal: number; fees: number; clearing: number };
}

export async function bankingOf(db: Transaction, saleId: string, zone: string): Promise<Banking> {
  const cards = matchCards(await recordedCards(db, saleId, zone), await terminalTotals(db, saleId));
  const open = await db.till.findMany({
    where: { saleId, sessions: { some: { closedAt: null } } },
    orderBy: { number: "asc" },
  });
  return {
    drawers: await drawersOf(db, saleId),
    openTills: open.map(({ number }) => number),
    inHand: await inHandOf(db, saleId),
    cards,
    card: await cardSums(db, saleId),
  };
}

async function drawersOf(db: Transaction, saleId: string): Promise<DrawerCount[]> {
  const rows = await db.cashUp.findMany({
    where: { tillSession: { till: { saleId } } },
    include: { tillSession: { include: { till: true } } },
    orderBy: [{ at: "asc" }, { tillSessionId: "asc" }],
  });
  return rows.map(({ tillSessionId, tillSession, at, expected, counted, difference }) => ({
    ...{ sessionId: tillSessionId, till: tillSession.till.number, at },
    expected: Number(expected),
    counted: Number(counted),
    difference: Number(difference),
  }));
}

async function inHandOf(db: Transaction, saleId: string): Promise<InHand[]> {
  const rows = await db.$queryRaw<(Pick<InHand, "source"> & Record<keyof InHand, bigint>)[]>`
    SELECT a.key AS source,
      coalesce(sum(s.amount) FILTER (WHERE s.kind IN ('cash-up', 'cash-move', 'receipt')), 0)::bigint AS "cameIn",
      coalesce(-sum(s.amount) FILTER (WHERE s.kind NOT IN ('cash-up', 'cash-move', 'receipt', 'deposit', 'deposit-void')), 0)::bigint
        AS "givenOut",
      coalesce(-sum(s.amount) FILTER (WHERE s.kind IN ('deposit', 'deposit-void')), 0)::bigint AS banked,
      coalesce(sum(s.amount), 0)::bigint AS still
    FROM unnest(ARRAY['cash-box', 'safe', 'cheques']) WITH ORDINALITY AS a(key, position)
    LEFT JOIN (SELECT p.account_key, p.amount, e.kind FROM posting p JOIN journal_entry e ON e.id = p.entry_id
      WHERE e.sale_id = ${saleId}::uuid) s ON s.account_key = a.key
    GROUP BY a.key, a.position ORDER BY a.position`;
  return rows.map(({ source, ...row }) => ({
    source: source as string,
    cameIn: Number(row.cameIn),
    givenOut: Number(row.givenOut),
    banked: Number(row.banked),
    still: Number(row.still),
  }));
}

/** By quarters of an hour first, as the takings are, so that each falls on its own day. */
async function recordedCards(db: Transaction, saleId: string, zone: string) {
  const rows = await db.$queryRaw<{ quarter: Date; till: number; amount: bigint }[]>`
    SELECT date_bin('15 minutes', r.made_at, '2000-01-01Z') AS quarter, t.number AS till, sum(o.amount)::bigint AS amount
    FROM receipt r JOIN till t ON t.id = r.till_id JOIN receipt_tender o ON o.receipt_id = r.id
    WHERE r.sale_id = ${saleId}::uuid AND o.kind = 'card' GROUP BY 1, 2 ORDER BY 1, 2`;
  return rows.map(({ quarter, till, amount }) => ({
    ...{ day: localDayOf(quarter.toISOString(), zone), till, amount: Number(amount) },
  }));
}

/** A charge without takings says nothing about a day's takings. */
async function terminalTotals(db: Transaction, saleId: string) {
  const rows = await db.cardTotal.findMany({
    where: { saleId, voided: null, gross: { gt: 0 } },
    include: { till: true },
  });
  return rows.map(({ day, till, gross }) => ({
    day: day.toISOString().slice(0, 10),
    till: till?.number ?? null,
    gross: Number(gross),
  }));
}

async function cardSums(db: Transaction, saleId: string): Promise<Banking["card"]> {
  const typed = await db.cardTotal.aggregate({
    where: { saleId, voided: null },
    _sum: { gross: true, fee: true },
  });
  const recorded = await db.receiptTender.aggregate({
    where: { kind: "card", receipt: { saleId } },
    _sum: { amount: true },
  });
  const clearing = await db.posting.aggregate({
    where: { accountKey: "card-clearing", entry: { saleId } },
    _sum: { amount: true },
  });
  return {
    recorded: Number(recorded._sum.amount ?? 0n),
    terminal: Number(typed._sum.gross ?? 0n),
    fees: Number(typed._sum.fee ?? 0n),
    clearing: Number(clearing._sum.amount ?? 0n),
  };
}
