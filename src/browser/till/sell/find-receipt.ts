import type { OtherTillsReceipt, ReceiptFact } from "../../../contract/till-fact.ts";
import { readReceiptNumber } from "../../../rules/receipt-number.ts";
import { readTag } from "../../../rules/tag-number.ts";
import type { ReceiptAnswer } from "../parts.ts";
import type { Named, ReturnedBefore } from "./coming-back.ts";
import type { Till } from "./till.ts";

/** Receipts of this till, or one of another. */
export type Found = { facts: ReceiptFact[] } | { elsewhere: Named } | { words: string };

/** Finds receipts by number or by a tag on them: on this till first, then by asking the server. */
export async function findReceipts(till: Till, text: string): Promise<Found> {
  const { past } = till.parts;
  const named = readReceiptNumber(text);
  if (named?.tillNumber === till.scene.till.number) {
    const fact = await past.numbered(named.number);
    if (fact) return { facts: [fact] };
  }
  // A till that was set up anew has its older receipts on the server alone.
  if (named) return findElsewhere(till, named);
  const tag = readTag(text, [till.scene.guild.tagLength === 10 ? 10 : 8]);
  if (!tag.ok)
    return { words: "Type a receipt number, such as 2-0017, or scan the tag of a piece." };
  const facts = await past.withTag(tag.value);
  if (facts.length > 0) return { facts };
  return {
    words: "No receipt of this till has that tag. Type the number that stands on the receipt.",
  };
}

/** Asks while there is a line; practice has none. */
export const askElsewhere = async (till: Till, name: string): Promise<ReceiptAnswer> =>
  till.parts.line && till.parts.state.online
    ? till.parts.line.askReceipt(name)
    : { kind: "silent" };

export const before = ({ returned }: OtherTillsReceipt): ReturnedBefore =>
  new Map(Object.entries(returned));

const offLine =
  "That receipt is not on this till, and the server does not answer now. Look for it again in a moment, or take the piece back at the till that sold it.";

async function findElsewhere(
  till: Till,
  { tillNumber, number }: { tillNumber: number; number: number },
): Promise<Found> {
  const name = till.words.receipt(number, tillNumber);
  const answer = await askElsewhere(till, name);
  if (answer.kind === "silent") return { words: offLine };
  if (answer.kind === "none")
    return {
      words: `The server has no receipt ${name} of this sale. Its till may not have sent it yet.`,
    };
  if (answer.kind === "refused")
    return { words: `The server did not look for it. ${answer.words}` };
  const { fact } = answer.receipt;
  return { elsewhere: { fact, tillNumber, before: before(answer.receipt) } };
}
