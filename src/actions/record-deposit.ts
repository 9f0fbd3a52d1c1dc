import { v7 } from "uuid";
import type { DepositInput } from "../contract/banking.ts";
import { writeEntry } from "../database/journal-writing.ts";
import { type Deed, perform } from "../database/perform.ts";
import { strangeBankDay } from "../rules/bank-day.ts";
import { depositPostings, depositWords } from "../rules/bank-entries.ts";
import { ok, type Result, refuse, refuseField } from "../rules/problem.ts";
import { guildToday } from "./guild-today.ts";
import { lockSale } from "./sale-lock.ts";

/**
 * Records what was taken to the bank. The lock of the sale lets one of two twins win: the same
 * source, day, amount and reference is one deposit until it is void.
 */
export const recordDeposit = (
  deed: Deed,
  input: DepositInput & { saleId: string },
): Promise<Result<{ id: string }>> =>
  perform(deed, "record-deposit", input, async (tx) => {
    const sale = await lockSale(tx, input.saleId);
    if (!sale.ok) return sale;
    const { saleId, source, amount, reference } = input;
    const strange = strangeBankDay(input.bankedOn, sale.value.firstDay, await guildToday(tx));
    if (strange) return refuseField("bankedOn", strange);
    const bankedOn = new Date(`${input.bankedOn}T00:00:00Z`);
    const row = { saleId, source, amount: BigInt(amount), reference, bankedOn };
    if (await tx.deposit.findFirst({ where: { ...row, voided: null } }))
      return refuse(
        "already-done",
        "A deposit with this day, amount and reference stands already. If this is another one, give it another reference.",
      );
    const id = v7();
    await tx.deposit.create({ data: { ...row, id, byId: deed.actor.id } });
    await writeEntry(tx, {
      byId: deed.actor.id,
      kind: "deposit",
      description: `${depositWords[source]} to the bank, ${sale.value.name}`,
      saleId,
      subjectId: id,
      postings: depositPostings(source, amount),
    });
    return ok({ value: { id }, subjectId: id, detail: { amount, reference } });
  });
