import { dayIn } from "../rules/day.ts";
import {
  accountPath,
  type JournalEntryText,
  journalEntryText,
  journalHead,
} from "../rules/journal.ts";
import type { Database } from "./client.ts";

const entriesAtOnce = 2_000;

/**
 * The entries of a sale as a plain-text journal, in pieces, so that a big sale is never held in
 * memory whole. Ordered by time: the day of an entry never comes after that of the next.
 */
export async function* exportJournal(db: Database, saleId: string): AsyncGenerator<string> {
  const guild = await db.guild.findFirstOrThrow();
  const paths = await writtenNames(db, saleId);
  yield journalHead([...paths.values()], guild.currency);
  let after = { at: new Date(0), number: 0n };
  for (;;) {
    const rows = await entriesAfter(db, saleId, after);
    if (rows.length === 0) return;
    yield rows.map((row) => written(row, paths, guild)).join("");
    after = rows.at(-1) ?? after;
  }
}

interface Row {
  number: bigint;
  at: Date;
  description: string;
  postings: { account: string; amount: number }[];
}

const entriesAfter = (db: Database, saleId: string, after: { at: Date; number: bigint }) =>
  db.$queryRaw<Row[]>`
    SELECT e.number, e.at, e.description, (SELECT jsonb_agg(jsonb_build_object('account', p.account_key,
      'amount', p.amount) ORDER BY p.id) FROM posting p WHERE p.entry_id = e.id) AS postings
    FROM journal_entry e
    WHERE e.sale_id = ${saleId}::uuid AND (e.at, e.number) > (${after.at}, ${after.number})
    ORDER BY e.at, e.number LIMIT ${entriesAtOnce}`;

function written(
  row: Row,
  paths: ReadonlyMap<string, string>,
  { currency, timeZone }: { currency: string; timeZone: string },
): string {
  const entry: JournalEntryText = {
    day: dayIn(row.at, timeZone),
    number: Number(row.number),
    description: row.description,
    postings: row.postings.map(({ account, amount }) => ({
      account: paths.get(account) ?? accountPath(account),
      amount,
    })),
  };
  return journalEntryText(entry, currency);
}

/** The written names of the accounts that this sale touches, by key. */
async function writtenNames(db: Database, saleId: string): Promise<Map<string, string>> {
  const rows = await db.$queryRaw<
    { key: string; tillNumber: number | null; memberNumber: number | null }[]
  >`
    SELECT k.key, t.number AS "tillNumber", m.number AS "memberNumber"
    FROM (SELECT DISTINCT p.account_key AS key FROM posting p JOIN journal_entry e ON e.id = p.entry_id
      WHERE e.sale_id = ${saleId}::uuid) k
    LEFT JOIN till t ON k.key = 'drawer/' || t.id
    LEFT JOIN member m ON k.key = 'member/' || m.id`;
  return new Map(rows.map(({ key, ...whose }) => [key, accountPath(key, whose)]));
}
