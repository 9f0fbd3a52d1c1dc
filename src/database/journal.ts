import type { Database } from "./client.ts";
import { literal } from "./search.ts";

export interface JournalEntryRead {
  id: string;
  number: number;
  at: Date;
  kind: string;
  description: string;
  saleId: string | null;
  postings: { account: string; name: string; amount: number }[];
}

/** Names of all accounts by key: a drawer is named by its till and sale, a member by number. */
export async function accountNames(db: Database): Promise<Map<string, string>> {
  const rows = await db.$queryRaw<{ key: string; name: string }[]>`
    SELECT a.key, CASE WHEN t.id IS NULL THEN a.name
      ELSE 'Drawer of till ' || t.number || ', ' || s.name END AS name
    FROM account a
    LEFT JOIN till t ON a.key = 'drawer/' || t.id
    LEFT JOIN sale s ON s.id = t.sale_id`;
  return new Map(rows.map(({ key, name }) => [key, name]));
}

export interface AccountBalance {
  key: string;
  kind: string;
  name: string;
  /** Debit is positive. */
  balance: number;
}

/** What stands on each account, the guild's own first, then drawers, then members by number. */
export async function listBalances(db: Database): Promise<AccountBalance[]> {
  const names = await accountNames(db);
  const rows = await db.$queryRaw<(Omit<AccountBalance, "balance"> & { balance: bigint })[]>`
    SELECT a.key, a.kind, a.name, coalesce(sum(p.amount), 0)::bigint AS balance
    FROM account a LEFT JOIN posting p ON p.account_key = a.key
    GROUP BY a.key ORDER BY a.key LIKE 'member/%', a.key LIKE 'drawer/%',
      array_position(ARRAY['asset', 'liability', 'income', 'expense'], a.kind), length(a.name), a.name`;
  return rows.map((row) => ({
    ...row,
    name: names.get(row.key) ?? row.name,
    balance: Number(row.balance),
  }));
}

export interface JournalList {
  q?: string | undefined;
  account?: string | undefined;
  saleId?: string | undefined;
  /** The entry number that ended the page before. */
  before?: bigint | undefined;
  limit: number;
}

/** Entries, the newest first, a page at a time. */
export async function listEntries(
  db: Database,
  { q, account, saleId, before, limit }: JournalList,
): Promise<{ items: JournalEntryRead[]; next: string | null }> {
  const names = await accountNames(db);
  const rows = await db.journalEntry.findMany({
    where: {
      ...(before === undefined ? {} : { number: { lt: before } }),
      ...(saleId ? { saleId } : {}),
      ...(q
        ? {
            description: {
              contains: literal(q.replace(/\p{Cc}/gu, " ")),
              mode: "insensitive" as const,
            },
          }
        : {}),
      ...(account ? { postings: { some: { accountKey: account } } } : {}),
    },
    include: { postings: { orderBy: { id: "asc" } } },
    orderBy: { number: "desc" },
    take: limit + 1,
  });
  const items = rows.slice(0, limit).map(({ postings, byId: _by, subjectId: _of, ...row }) => ({
    ...row,
    number: Number(row.number),
    postings: postings.map(({ accountKey, amount }) => ({
      account: accountKey,
      name: names.get(accountKey) ?? accountKey,
      amount: Number(amount),
    })),
  }));
  const last = rows.length > limit ? items.at(-1) : undefined;
  return { items, next: last ? String(last.number) : null };
}
