import { type ReceiptFact, receiptFact } from "../../../contract/till-fact.ts";
import { readReceiptNumber } from "../../../rules/receipt-number.ts";
import { readTag } from "../../../rules/tag-number.ts";
import type { Till } from "./till.ts";

export type Found = { facts: ReceiptFact[] } | { words: string };

/** Sales of other tills that were looked up on line, for as long as the page is open. */
const lookedUp = new Map<string, ReceiptFact>();

/** Finds receipts by number or by a tag on them: on this till first, then by asking the server. */
export async function findReceipts(till: Till, text: string): Promise<Found> {
  const { past } = till.parts;
  const named = readReceiptNumber(text);
  if (named?.tillNumber === till.scene.till.number) {
    const fact = await past.numbered(named.number);
    if (fact) return { facts: [fact] };
    return { words: `Receipt ${text.trim()} is not on this till.` };
  }
  if (named) return askServer(till, text.replace(/\s/g, ""));
  const tag = readTag(text, [till.scene.guild.tagLength === 10 ? 10 : 8]);
  if (!tag.ok)
    return { words: "Type a receipt number, such as 2-0017, or scan the tag of a piece." };
  const facts = await past.withTag(tag.value);
  if (facts.length > 0) return { facts };
  return {
    words: "No receipt of this till has that tag. Type the number that stands on the receipt.",
  };
}

export const foundReceipt = async (till: Till, id: string): Promise<ReceiptFact | undefined> =>
  (await till.parts.past.find(id)) ?? lookedUp.get(id);

const offLine =
  "That receipt is another till's, and this till is off line. Ask for it when the till is on line again, or take the piece at the till that sold it.";

async function askServer(till: Till, name: string): Promise<Found> {
  if (!till.parts.state.online || till.parts.practice) return { words: offLine };
  try {
    const response = await fetch(`/api/till/receipts/${encodeURIComponent(name)}`, {
      signal: AbortSignal.timeout(5_000),
    });
    if (response.status === 404) return { words: `There is no receipt ${name} in this sale.` };
    const read = receiptFact.safeParse(await response.json());
    if (!response.ok || !read.success) return { words: offLine };
    lookedUp.set(read.data.id, read.data);
    return { facts: [read.data] };
  } catch {
    // No answer is the same as no line: the words say what can be done without one.
    return { words: offLine };
  }
}
