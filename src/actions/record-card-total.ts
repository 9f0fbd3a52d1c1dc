import { v7 } from "uuid";
import type { CardTotalInput } from "../contract/banking.ts";
import type { Transaction } from "../database/client.ts";
import { writeEntry } from "../database/journal-writing.ts";
import { type Deed, perform } from "../database/perform.ts";
import { strangeBankDay } from "../rules/bank-day.ts";
import { cardTotalPostings } from "../rules/bank-entries.ts";
import { ok, type Result, refuse, refuseField } from "../rules/problem.ts";
import { guildToday } from "./guild-today.ts";
import { lockSale } from "./sale-lock.ts";

/**
 * Records what the card terminal or its processor says of a day. The lock of the sale lets one of
 * two twins win: one till, day and reference has one total until that is void.
 */
export const recordCardTotal = (
  deed: Deed,
  input: CardTotalInput & { saleId: string },
): Promise<Result<{ id: string }>> =>
  perform(deed, "record-card-total", input, async (tx) => {
    const sale = await lockSale(tx, input.saleId);
    if (!sale.ok) return sale;
    const { saleId, tillId, gross, fee, reference } = input;
    const wrong = wrongAmounts(gross, fee);
    if (wrong) return wrong;
    const strange = strangeBankDay(input.day, sale.value.firstDay, await guildToday(tx));
    if (strange) return refuseField("day", strange);
    const till = await tillWords(tx, saleId, tillId);
    if (!till) return refuseField("tillId", "Choose a till of this sale, or all tills together.");
    const day = new Date(`${input.day}T00:00:00Z`);
    if (await tx.cardTotal.findFirst({ where: { saleId, tillId, day, reference, voided: null } }))
      return refuse(
        "already-done",
        "A total of this day and reference stands already. Void it first if it was wrong; if this is another one, give it another reference.",
      );
    const id = v7();
    const amounts = { gross: BigInt(gross), fee: BigInt(fee) };
    const row = { id, saleId, tillId, day, ...amounts, reference, byId: deed.actor.id };
    await tx.cardTotal.create({ data: row });
    await writeEntry(tx, {
      byId: deed.actor.id,
      kind: "card-total",
      description: `Card total of ${input.day}, ${till}, ${sale.value.name}`,
      saleId,
      subjectId: id,
      postings: cardTotalPostings({ gross, fee }),
    });
    return ok({ value: { id }, subjectId: id, detail: { gross, fee, day: input.day, reference } });
  });

function wrongAmounts(gross: number, fee: number) {
  if (gross === 0 && fee === 0) return refuseField("gross", "Type what was taken by card.");
  if (gross > 0 && fee > gross)
    return refuseField("fee", "The fee is more than what was taken. Check both amounts.");
  return undefined;
}

async function tillWords(tx: Transaction, saleId: string, tillId: string | null) {
  if (tillId === null) return "all tills";
  const till = await tx.till.findFirst({ where: { id: tillId, saleId } });
  return till && `till ${till.number}`;
}
