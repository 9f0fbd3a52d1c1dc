import { createHash } from "node:crypto";
import { setImmediate as letOthersRun } from "node:timers/promises";
import { formatMoney } from "../rules/currency.ts";
import type { ItemLabel } from "../rules/labels/item-label.ts";
import type { LabelContent } from "../rules/labels/label-content.ts";
import { showTag } from "../rules/tag-number.ts";
import { canonical } from "./canonical.ts";
import type { Transaction } from "./client.ts";
import { type LabelRow, labelOf, withLabel } from "./labels.ts";

export interface TagChoice {
  saleId: string;
  memberId?: string | undefined;
  itemId?: string | undefined;
  itemIds?: readonly string[] | undefined;
  /** A stack of alike pieces gets a tag for each piece, all with the one number. */
  each: boolean;
}

/** What stands on a tag; whether the till scans bars or a square is chosen when it prints. */
export type TagWords = Omit<LabelContent, "code">;

/** The tag of one item, with what a print has to record and why it may not be printed. */
export interface ItemTag {
  itemId: string;
  words: TagWords;
  copies: number;
  /** A hash of what the tag says: two alike print the same tag. */
  fingerprint: string;
  /** The same for the care strip, which says less. */
  stripFingerprint: string;
  refusals: string[];
  /** The law asks for care words that stay on the piece. */
  needsStrip: boolean;
}

/** The tags of a choice, in the order of members and their entries; withdrawn entries have none. */
export async function gatherTags(db: Transaction, choice: TagChoice): Promise<ItemTag[]> {
  const { saleId, memberId, itemId, itemIds } = choice;
  const guild = await db.guild.findFirstOrThrow();
  const rows = await db.item.findMany({
    where: {
      ...{ saleId, withdrawnAt: null },
      ...(memberId ? { memberId } : {}),
      ...(itemId ? { id: itemId } : {}),
      ...(itemIds ? { id: { in: [...itemIds] } } : {}),
    },
    include: withLabel,
    orderBy: [{ member: { number: "asc" } }, { number: "asc" }],
  });
  const tags: ItemTag[] = [];
  for (const [index, row] of rows.entries()) {
    tags.push(tagOf(row, guild, choice.each));
    if (index % tagsAtATime === 0) await letOthersRun();
  }
  return tags;
}

/** A whole sale's labels take a second or two; after so many the server gets to answer others. */
const tagsAtATime = 50;

type Guild = Awaited<ReturnType<Transaction["guild"]["findFirstOrThrow"]>>;
type Row = LabelRow & {
  id: string;
  tag: string;
  technique: string;
  colours: string;
  size: string;
  price: bigint;
  quantity: number;
  piecesInSet: number;
  member: { number: number; name: string };
};

function tagOf(row: Row, guild: Guild, each: boolean): ItemTag {
  const label = labelOf(row, guild);
  const copies = each ? row.quantity : 1;
  const words: TagWords = {
    tag: row.tag,
    shownTag: showTag(row.tag),
    title: row.description,
    details: [row.technique, row.colours].filter(Boolean).join(", "),
    size: row.size,
    ...labelWords(label, guild.careSymbols),
    price: formatMoney(Number(row.price), guild.currency, guild.locale),
    memberNumber: String(row.member.number),
    ...(row.piecesInSet > 1 ? { setNote: `Set of ${row.piecesInSet}` } : {}),
    ...(guild.showMemberName ? { memberName: row.member.name } : {}),
  };
  return {
    itemId: row.id,
    copies,
    fingerprint: hashOf({ words, quantity: row.quantity }),
    stripFingerprint: hashOf(stripWords(words)),
    refusals: label.refusals.map((rule) => rule.words),
    needsStrip: label.care.duty.permanent,
    words:
      row.quantity > 1 && copies === 1
        ? { ...words, quantityNote: `${row.quantity} pieces` }
        : words,
  };
}

const texts = (lines: readonly { text: string }[]): string[] => lines.map(({ text }) => text);

const labelWords = ({ fibre, care, caution, origin, identity }: ItemLabel, symbols: boolean) => ({
  fibreLines: texts(fibre.lines),
  careLines: texts(care.lines),
  cautionLines: texts(caution.lines),
  originLine: texts(origin).join(" "),
  identityLine: identity.join(", "),
  ...(symbols && care.symbols.codes.length > 0 ? { symbols: care.symbols } : {}),
});

const stripWords = (words: TagWords) => {
  const { fibreLines, careLines, cautionLines, originLine, identityLine, symbols } = words;
  return { fibreLines, careLines, cautionLines, originLine, identityLine, symbols };
};

const hashOf = (said: object): string =>
  createHash("sha256").update(canonical(said)).digest("hex").slice(0, 32);

export type TagCode = LabelContent["code"];

/** One label for every copy, in order. */
export const copiesOf = (tags: readonly ItemTag[], code: TagCode): LabelContent[] =>
  tags.flatMap(({ words, copies }) => Array.from({ length: copies }, () => ({ ...words, code })));
