import type { Transaction } from "../database/client.ts";
import type { SaleRead } from "../database/sales.ts";
import { momentText } from "../rules/moment.ts";
import { ok, problem, type Result, refuse, refuseField } from "../rules/problem.ts";
import { readTag, showTag, type TagLength } from "../rules/tag-number.ts";
import { type LockedItem, lockItems } from "./lock-rows.ts";

/** What became of each of several tags: those that are done, and those that could not be. */
export interface DeskTally {
  done: { itemId: string; tag: string; quantity: number }[];
  refused: { tag: string; code: string; detail: string }[];
}

/** Finds a scanned or typed tag in a sale and locks it, or says what is wrong with the tag. */
export async function lockByTag(
  tx: Transaction,
  sale: SaleRead,
  text: string,
): Promise<Result<LockedItem>> {
  const guild = await tx.guild.findFirstOrThrow();
  const tag = readTag(text, [guild.tagLength as TagLength]);
  if (!tag.ok) return tag;
  const [item] = await lockItems(tx, [tag.value]);
  return item ? belongs(tx, sale, item) : noPiece(tag.value);
}

export const noPiece = (tag: string): Result<never> => {
  const message = `${showTag(tag)} is a good number, but no piece was entered under it.`;
  return refuse("unknown-tag", message, [{ field: "tag", message }]);
};

async function belongs(
  tx: Transaction,
  sale: SaleRead,
  item: LockedItem,
): Promise<Result<LockedItem>> {
  if (item.saleId === sale.id) return ok(item);
  const other = await tx.sale.findUniqueOrThrow({ where: { id: item.saleId } });
  return refuse(
    "other-sale",
    `${named(item)} was entered for ${other.name}. The member can copy it into ${sale.name} for a new tag.`,
  );
}

export const named = (item: LockedItem): string => `${showTag(item.tag)}, ${item.description},`;

/** How many of the pieces that are there to move: all of them unless a number is given. */
export function wanted(there: number, given: number | undefined, where: string): Result<number> {
  if (given === undefined) return ok(there);
  if (Number.isSafeInteger(given) && given >= 1 && given <= there) return ok(given);
  return refuseField("quantity", `Type a number from 1 to ${there}: so many are ${where}.`);
}

/** Why none of an item's pieces can come in: they are in, sold, or were never to come. */
export async function cannotComeIn(tx: Transaction, item: LockedItem): Promise<Result<never>> {
  if (item.onFloor === 0 && item.withBuyer > 0)
    return refuse("already-sold", `${named(item)} was sold. Nothing was changed.`);
  const last = await tx.checkIn.findFirst({
    where: { itemId: item.id, decision: "accepted" },
    orderBy: { id: "desc" },
  });
  if (!last) return refuse("already-done", `${named(item)} has no piece left to come.`);
  const by = await tx.member.findUniqueOrThrow({ where: { id: last.byId } });
  const guild = await tx.guild.findFirstOrThrow();
  const when = momentText(last.at, guild.locale, guild.timeZone);
  return refuse(
    "already-done",
    `${named(item)} was taken in on ${when} by ${by.name}. It is counted once; nothing was changed.`,
  );
}

/** Why no piece of an item can be handed back: none of it is on the floor. */
export function cannotGoHome(item: LockedItem): ReturnType<typeof refuse> {
  if (item.withdrawnAt)
    return refuse("withdrawn", `${named(item)} was withdrawn and never came to the floor.`);
  return refuse("not-on-floor", `${named(item)} ${whereGone(item)}. Nothing was changed.`);
}

function whereGone({ withBuyer, withMember, withGuild, lost }: LockedItem): string {
  if (withBuyer > 0)
    return `was sold${withMember > 0 ? "; what was left has gone back to the member" : ""}`;
  if (lost > 0) return "is noted as missing. Note first that it was found";
  if (withGuild > 0) return "was left with the guild";
  return "is with the member: it never came, or it has been picked up already";
}

/** When not one of several tags could be done, the first reason answers for all. */
export function tallyOrRefuse(tally: DeskTally): Result<DeskTally> {
  const [first] = tally.refused;
  if (tally.done.length > 0 || !first) return ok(tally);
  return { ok: false, problem: problem("already-done", first.detail) };
}
