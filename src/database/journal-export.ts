import { dayIn } from "../rules/day.ts";
import {
  accountPath,
  type JournalAccount,
  type JournalEntryText,
  journalEntryText,
  journalHead,
} from "../rules/journal.ts";
import type { Transaction } from "./client.ts";

const entriesAtOnce = 2_000;

/**
 * The entries of a sale, or of all sales, as a plain-text journal, in pieces, so that big books are
 * never held in memory whole. Ordered by time: the day of an entry never comes after that of the next.
 */
export async function* exportJournal(
  db: Transaction,
  saleId: string | null,
): AsyncGenerator<string> {
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

const entriesAfter = (
  db: Transaction,
  saleId: string | null,
  after: { at: Date; number: bigint },
) => db.$queryRaw<Row[]>`
  SELECT e.number, e.at, e.description, (SELECT jsonb_agg(jsonb_build_object('account', p.account_key,
    'amount', p.amount) ORDER BY p.id) FROM posting p WHERE p.entry_id = e.id) AS postings
  FROM journal_entry e
  WHERE (${saleId}::uuid IS NULL OR e.sale_id = ${saleId}::uuid)
    AND (e.at, e.number) > (${after.at}, ${after.number})
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
      account: paths.get(account) as string,
      amount,
    })),
  };
  return journalEntryText(entry, currency);
}

/** The written names of the accounts that these entries touch, by key. */
export async function writtenNames(
  db: Transaction,
  saleId: string | null,
): Promise<Map<string, string>> {
  const rows = await db.$queryRaw<JournalAccount[]>`
    SELECT a.key, a.kind, a.name, m.number AS "memberNumber",
      CASE WHEN t.id IS NULL THEN NULL ELSE jsonb_build_object('number', t.number, 'saleName', s.name,
        'firstDay', s.first_day) END AS till
    FROM account a
    LEFT JOIN till t ON a.key = 'drawer/' || t.id
    LEFT JOIN sale s ON s.id = t.sale_id
    LEFT JOIN member m ON a.key = 'member/' || m.id
    WHERE a.key IN (SELECT p.account_key FROM posting p JOIN journal_entry e ON e.id = p.entry_id
      WHERE ${saleId}::uuid IS NULL OR e.sale_id = ${saleId}::uuid)
    ORDER BY a.key COLLATE "C"`;
  return withoutTwins(rows.map((row) => [row.key, accountPath(row)]));
}

/** Two sales of one name may begin on one day; their drawers must not become one account. */
function withoutTwins(named: [key: string, path: string][]): Map<string, string> {
  const counts = new Map<string, number>();
  return new Map(
    named.map(([key, path]) => {
      const count = (counts.get(path) ?? 0) + 1;
      counts.set(path, count);
      return [key, count === 1 ? path : `${path} no ${count}`];
    }),
  );
}
