import { createHash } from "node:crypto";
import { rateWords } from "../rules/policy/rate-words.ts";
import type { PreviewMember } from "./settlement-preview.ts";

/**
 * SHA-256 over every line with its figures and its ground, in the order of the line ids; every fee,
 * loss, adjustment and correction; and what is carried, held and paid in which way. check-books works it out again from what
 * is stored, so a row that was changed or taken away later is noticed.
 */
export function fingerprintOf(members: readonly PreviewMember[]): string {
  const inOrder = members.toSorted((one, other) => (one.memberId < other.memberId ? -1 : 1));
  const lines = members.flatMap((one) => one.lines.map(lineRow)).sort();
  const items = inOrder.flatMap(({ memberId, ...one }) =>
    one.items.map(({ kind, count, amount, words, itemId, adjustmentId }) =>
      joined(memberId, kind, count, amount, words, itemId, adjustmentId),
    ),
  );
  const held = inOrder
    .map(({ payout: { method }, ...one }) => ({ ...one, method }))
    .filter(({ net, carried, due, method }) => carried || due !== Math.max(net, 0) || method)
    .map(({ memberId, carried, due, method }) => joined(memberId, carried, due, method));
  return createHash("sha256")
    .update([...lines, ...items, ...held].join("\n"))
    .digest("hex");
}

const lineRow = (line: PreviewMember["lines"][number]): string =>
  joined(
    ...[line.lineId, line.amount, line.rate, line.guildShare, line.net, `${line.donated}`],
    rateWords(line.answer.reason),
  );

/** As concat_ws of the database puts them together: what is not there leaves no gap. */
const joined = (...parts: (string | number | null)[]): string =>
  parts.filter((part) => part !== null).join(" ");
