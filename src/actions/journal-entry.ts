import { v7 } from "uuid";
import type { Transaction } from "../database/client.ts";
import type { Deed } from "../database/perform.ts";
import { assertBalanced, type Posting } from "../rules/ledger.ts";

export interface NewEntry {
  kind: string;
  description: string;
  saleId: string;
  /** The row this entry books; one entry of a kind for each. */
  subjectId: string;
  postings: readonly Posting[];
}

/**
 * Books one entry. Its postings go in one statement, because the database checks them together.
 * Nothing is written when there is nothing to post, as when a settlement leaves the guild no share.
 */
export async function writeEntry(tx: Transaction, deed: Deed, entry: NewEntry): Promise<void> {
  const { postings, ...head } = entry;
  assertBalanced(postings);
  if (postings.length === 0) return;
  const id = v7();
  await tx.journalEntry.create({ data: { ...head, id, byId: deed.actor.id } });
  await tx.posting.createMany({
    data: postings.map(({ account, amount }) => ({
      entryId: id,
      accountKey: account,
      amount: BigInt(amount),
    })),
  });
}
