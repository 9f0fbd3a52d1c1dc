import { v7 } from "uuid";
import { assertBalanced, type Posting } from "../rules/ledger.ts";
import type { Transaction } from "./client.ts";

export interface EntryToWrite {
  kind: string;
  description: string;
  saleId: string | null;
  /** The row this entry books; one entry of a kind for each. */
  subjectId: string;
  byId: string;
  postings: readonly Posting[];
}

/**
 * Books one entry, its postings in one statement, because the database checks them together.
 * Nothing is written when there is nothing to post, as when a till opens without a float.
 */
export async function writeEntry(tx: Transaction, given: EntryToWrite): Promise<void> {
  const { postings, ...entry } = given;
  assertBalanced(postings);
  if (postings.length === 0) return;
  const id = v7();
  await tx.journalEntry.create({ data: { id, ...entry } });
  await tx.posting.createMany({
    data: postings.map(({ account, amount }) => ({
      entryId: id,
      accountKey: account,
      amount: BigInt(amount),
    })),
  });
}
