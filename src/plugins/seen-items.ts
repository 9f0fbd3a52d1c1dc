import type { Database } from "../database/client.ts";
import { findItem, findItemByTag, type ShownItem } from "../database/items.ts";
import type { Actor } from "../database/perform.ts";
import { problem, refuseField } from "../rules/problem.ts";
import { hasAny } from "../rules/roles.ts";
import { readTag, showTag } from "../rules/tag-number.ts";
import { notFound, orRefuse, RefusedRequest } from "./errors.ts";

/** These roles look after everybody's pieces or money; others see their own. */
export const seesAll = (actor: Actor): boolean =>
  hasAny(actor.roles, ["desk", "treasurer", "chair"]);

/** An item for those who may see it; somebody else's answers like an unknown one. */
export async function seenItem(db: Database, actor: Actor, id: string): Promise<ShownItem> {
  const item = await findItem(db, id);
  if (!item || !(item.memberId === actor.id || seesAll(actor))) throw notFound("this item");
  return item;
}

export async function itemByTag(db: Database, text: string): Promise<ShownItem> {
  const { tagLength } = await db.guild.findFirstOrThrow();
  const tag = orRefuse(readTag(text, [tagLength === 8 ? 8 : 10]));
  const item = await findItemByTag(db, tag);
  if (item) return item;
  throw new RefusedRequest(
    problem("unknown-tag", `${showTag(tag)} is a good number, but no piece has it.`),
  );
}

/** Whose tags to print: members their own, helpers a member's or everybody's (undefined). */
export async function tagsOf(
  db: Database,
  actor: Actor,
  number: number | undefined,
): Promise<string | undefined> {
  const helper = hasAny(actor.roles, ["desk", "chair"]);
  if (number === undefined) return helper ? undefined : actor.id;
  if (number === actor.number) return actor.id;
  const member = helper && (await db.member.findFirst({ where: { number }, select: { id: true } }));
  if (!member) throw notFound(`tags of member ${number}`);
  return member.id;
}

/** Whose list of entries is printed: one's own, or at the desk anybody's by their number. */
export async function listOwner(db: Database, actor: Actor, number: string): Promise<string> {
  if (number === "" || number === String(actor.number)) return actor.id;
  const helper = hasAny(actor.roles, ["desk", "chair"]) && /^\d{1,4}$/.test(number);
  const where = { number: Number(number) };
  const member = helper && (await db.member.findUnique({ where, select: { id: true } }));
  if (!member) throw notFound("this member's list");
  return member.id;
}

/** The member a helper names by number, or oneself. What a helper may do is left to the action. */
export async function memberIdFor(
  db: Database,
  actor: Actor,
  number: number | undefined,
): Promise<string> {
  if (number === undefined || number === actor.number) return actor.id;
  if (!hasAny(actor.roles, ["desk", "chair"]))
    throw new RefusedRequest(
      problem("not-allowed", "Only the desk or the chair can enter pieces for somebody else."),
    );
  const member = await db.member.findUnique({ where: { number }, select: { id: true } });
  return member?.id ?? orRefuse(refuseField("memberNumber", `There is no member ${number}.`));
}
