import { adjustmentsAreBooked } from "./checks/adjustments.ts";
import { settlementsWereAgreed } from "./checks/agreed.ts";
import { drawersAreEmpty, membersAreOwed } from "./checks/balances.ts";
import { bankingIsBooked, takingsTie } from "./checks/banking.ts";
import type { Check } from "./checks/check.ts";
import { correctionsExplain, deedsHavePeople, rowsAreGuarded } from "./checks/corrections.ts";
import { cashUpsFit, drawerMovesAreBooked } from "./checks/drawers.ts";
import { entriesBalance } from "./checks/entries.ts";
import { runsFit } from "./checks/paying.ts";
import { piecesAreSomewhere } from "./checks/pieces.ts";
import {
  linesMovePieces,
  receiptsAddUp,
  receiptsAreBooked,
  receiptsRunOn,
} from "./checks/receipts.ts";
import {
  payoutsFit,
  settlementsAreBooked,
  settlementsStand,
  statementsAddUp,
} from "./checks/settlements.ts";
import type { Database, Transaction } from "./client.ts";

const checks: readonly Check[] = [
  entriesBalance,
  piecesAreSomewhere,
  membersAreOwed,
  adjustmentsAreBooked,
  drawersAreEmpty,
  drawerMovesAreBooked,
  cashUpsFit,
  bankingIsBooked,
  receiptsRunOn,
  receiptsAddUp,
  receiptsAreBooked,
  takingsTie,
  linesMovePieces,
  correctionsExplain,
  deedsHavePeople,
  rowsAreGuarded,
  settlementsWereAgreed,
  settlementsStand,
  statementsAddUp,
  settlementsAreBooked,
  payoutsFit,
  runsFit,
];

export interface Checked {
  invariant: number;
  words: string;
  checked: number;
  /** The first row that breaks it. */
  broken: string | null;
}

export interface BooksChecked {
  sound: boolean;
  checks: Checked[];
  unaccounted: { pieces: number; money: number };
}

const running = new WeakMap<Database, Promise<BooksChecked>>();

/**
 * Proves the invariants of both ledgers from the rows themselves, on one snapshot, so that a till
 * that goes on selling meanwhile breaks nothing. Whoever asks while a check is running gets its
 * answer: a few impatient clicks must not take every connection from the tills.
 */
export function checkBooks(db: Database): Promise<BooksChecked> {
  const begun = running.get(db);
  if (begun) return begun;
  const check = onSnapshot(db).finally(() => running.delete(db));
  running.set(db, check);
  return check;
}

/** Takes its time: the limit of ordinary statements is lifted for this transaction only. */
const onSnapshot = (db: Database): Promise<BooksChecked> =>
  db.$transaction(
    async (tx) => {
      await tx.$executeRaw`SET TRANSACTION READ ONLY`;
      await tx.$executeRaw`SET LOCAL statement_timeout = '120s'`;
      // Every check reads whole tables; a plan that looks rows up one by one would take for ever.
      await tx.$executeRaw`SET LOCAL enable_nestloop = off`;
      return runChecks(tx);
    },
    { isolationLevel: "RepeatableRead", timeout: 600_000, maxWait: 5_000 },
  );

/** The same inside a transaction that is open already. */
export async function runChecks(tx: Transaction): Promise<BooksChecked> {
  const done: Checked[] = [];
  for (const { invariant, words, run } of checks) {
    const [found] = await run(tx);
    if (!found) throw new Error(`The check "${words}" gave no answer.`);
    done.push({ invariant, words, checked: Number(found.checked), broken: found.broken });
  }
  const sound = done.every(({ broken }) => broken === null);
  return { sound, checks: done, unaccounted: await unaccounted(tx) };
}

/** Pieces in no place, and money taken that is neither tax, donation, share, paid nor owed. */
async function unaccounted(tx: Transaction): Promise<{ pieces: number; money: number }> {
  const [row] = await tx.$queryRaw<[{ pieces: bigint; money: bigint }]>`
    SELECT (SELECT coalesce(sum(i.quantity - c.with_member - c.on_floor - c.with_buyer - c.with_guild - c.lost), 0)
        FROM item i JOIN item_count c ON c.item_id = i.id)::bigint AS pieces,
      ((SELECT coalesce(sum(amount), 0) FROM receipt_tender)
        - (SELECT coalesce(sum(l.tax), 0) + coalesce(sum(l.amount) FILTER (WHERE
            CASE WHEN l.suspended THEN i.member_id IS NULL ELSE l.donated OR l.kind = 'goods' END), 0)
          FROM receipt_line l LEFT JOIN identified i ON i.line_id = l.id)
        - (SELECT coalesce(sum(rounding), 0) FROM receipt)
        - (SELECT coalesce(sum(guild_share + card_fee + fees - losses), 0) FROM settlement)
        + (SELECT coalesce(sum(amount), 0) FROM adjustment)
        - (SELECT coalesce(sum(amount), 0) FROM payout p WHERE NOT EXISTS (SELECT 1 FROM payout_void v WHERE v.payout_id = p.id))
        + (SELECT coalesce(sum(amount), 0) FROM posting WHERE account_key LIKE 'member/%'))::bigint AS money`;
  return { pieces: Number(row.pieces), money: Number(row.money) };
}
