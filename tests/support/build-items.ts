import { checkInItem } from "../../src/actions/check-in-item.ts";
import { enterItem } from "../../src/actions/enter-item.ts";
import type { Database } from "../../src/database/client.ts";
import type { ItemDetails } from "../../src/rules/item.ts";
import { emptyDetails } from "../../src/rules/labels/details.ts";
import { deedOf } from "./build.ts";

/** A day on which entries of `buildSale` are open: before its deadline. */
export const early = new Date("2026-11-01T12:00:00Z");
export const late = new Date("2026-11-21T12:00:00Z");

/** The least and most ordinary that a member enters. */
export const scarf = (more: Partial<ItemDetails> = {}): ItemDetails => ({
  kind: "scarf",
  description: "Twill scarf",
  technique: "2/2 twill",
  fibres: [
    { fibre: "wool", percent: 80 },
    { fibre: "silk", percent: 20 },
  ],
  size: "20 x 180 cm",
  colours: "Moss and straw",
  label: { ...emptyDetails, answers: { surface: "plain" } },
  price: 4_500,
  quantity: 1,
  piecesInSet: 1,
  donated: false,
  markdown: false,
  ...more,
});

type Who = Parameters<typeof deedOf>[1];

/** A member enters an item through the action, having agreed to the sale's first wording. */
export async function enter(
  db: Database,
  member: Who,
  sale: { id: string },
  more: Partial<ItemDetails> = {},
) {
  const given = {
    saleId: sale.id,
    memberId: member.id,
    item: scarf(more),
    agreementVersion: 1,
  };
  const entered = await enterItem(deedOf(db, member), given, early);
  if (!entered.ok) throw new Error(JSON.stringify(entered.problem));
  return entered.value;
}

/** The desk takes in everything of an item; the sale has to be at a stage that allows it. */
export async function takeIn(db: Database, helper: Who, sale: { id: string }, tag: string) {
  const given = { saleId: sale.id, tag, decision: "accepted" as const, reason: "" };
  const done = await checkInItem(deedOf(db, helper), given);
  if (!done.ok) throw new Error(JSON.stringify(done.problem));
  return done.value;
}

export const moveTo = (db: Database, sale: { id: string }, stage: string) =>
  db.sale.update({ where: { id: sale.id }, data: { stage } });
