import { careText, isCareCode } from "../rules/care.ts";
import { formatMoney } from "../rules/currency.ts";
import { type Fibre, fibreText } from "../rules/fibre.ts";
import type { TagLabel } from "../rules/tag-label.ts";
import { showTag } from "../rules/tag-number.ts";
import type { Transaction } from "./client.ts";

export interface TagChoice {
  saleId: string;
  memberId?: string;
  itemId?: string;
  /** A stack of alike pieces gets a tag for each piece, all with the one number. */
  each: boolean;
}

/** The tags of a choice, in the order of members and their entries; withdrawn entries have none. */
export async function gatherTags(db: Transaction, choice: TagChoice): Promise<TagLabel[]> {
  const { saleId, memberId, itemId } = choice;
  const guild = await db.guild.findFirstOrThrow();
  const rows = await db.item.findMany({
    where: {
      ...{ saleId, withdrawnAt: null },
      ...(memberId ? { memberId } : {}),
      ...(itemId ? { id: itemId } : {}),
    },
    include: { member: { select: { number: true, name: true } } },
    orderBy: [{ member: { number: "asc" } }, { number: "asc" }],
  });
  return rows.flatMap((row) => {
    const words: TagLabel = {
      tag: row.tag,
      shownTag: showTag(row.tag),
      description: row.description,
      size: row.size,
      fibreText: fibreText(row.fibres as unknown as Fibre[]),
      careText: isCareCode(row.care) ? careText(row.care) : "",
      price: formatMoney(Number(row.price), guild.currency, guild.locale),
      memberNumber: String(row.member.number),
      ...(row.piecesInSet > 1 ? { setNote: `Set of ${row.piecesInSet}` } : {}),
      ...(row.quantity > 1 && !choice.each ? { quantityNote: `${row.quantity} pieces` } : {}),
      ...(guild.showMemberName ? { memberName: row.member.name } : {}),
    };
    return Array.from({ length: choice.each ? row.quantity : 1 }, () => words);
  });
}
