import { createHash } from "node:crypto";
import type { PreviewMember } from "./settlement-preview.ts";

/**
 * SHA-256 over every line with its figures, in the order of the line ids; every fee, loss,
 * adjustment and correction; and what is carried or held. check-books works it out again from what
 * is stored, so a row that was changed or taken away later is noticed.
 */
export function fingerprintOf(members: readonly PreviewMember[]): string {
  const inOrder = members.toSorted((one, other) => (one.memberId < other.memberId ? -1 : 1));
  const lines = members.flatMap((one) => one.lines.map(lineRow)).sort();
  const items = inOrder.flatMap(({ memberId, ...one }) =>
    one.items.map(({ kind, count, amount, words }) =>
      [memberId, kind, count, amount, words].join(" "),
    ),
  );
  const held = inOrder
    .filter(({ net, carried, due }) => carried !== 0 || due !== Math.max(net, 0))
    .map(({ memberId, carried, due }) => `${memberId} ${carried} ${due}`);
  return createHash("sha256")
    .update([...lines, ...items, ...held].join("\n"))
    .digest("hex");
}

const lineRow = (line: PreviewMember["lines"][number]): string =>
  [line.lineId, line.amount, line.rate, line.guildShare, line.net, line.donated].join(" ");
