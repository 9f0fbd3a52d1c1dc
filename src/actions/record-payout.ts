import { v7 } from "uuid";
import type { Transaction } from "../database/client.ts";
import { writeEntry } from "../database/journal-writing.ts";
import { type Actor, type Deed, perform } from "../database/perform.ts";
import { dayText } from "../rules/day.ts";
import { accounts } from "../rules/ledger.ts";
import { payoutPostings } from "../rules/ledger-entries.ts";
import { momentText } from "../rules/moment.ts";
import { ok, type Result, refuse, refuseField } from "../rules/problem.ts";
import { allows, type Stage } from "../rules/sale-stage.ts";
import type { PayoutMethod } from "../rules/statement.ts";

export interface PayoutInput {
  statementId: string;
  method: PayoutMethod;
  /** The number of the cheque or the reference of the transfer; may be empty for cash. */
  reference: string;
  /** The day of the payment, as "2026-12-01". */
  paidOn: string;
}

export interface PaidOut {
  payoutId: string;
  statementId: string;
  attempt: number;
  amount: number;
}

/** Records that a statement was paid, whole. One that waits in a paying run is paid there. */
export const recordPayout = (deed: Deed, input: PayoutInput): Promise<Result<PaidOut>> =>
  perform(deed, "record-payout", input, async (tx) => {
    if (input.method !== "cash" && input.reference === "")
      return refuseField("reference", missing[input.method]);
    const paid = await payStatement(tx, deed.actor, input);
    if (!paid.ok) return paid;
    const { value } = paid;
    const { method, reference } = input;
    return ok({ value, subjectId: value.payoutId, detail: { ...value, method, reference } });
  });

/**
 * Pays one statement inside a deed; `run` is the paying run that does it. The lock of the statement
 * lets one of two payouts win; after a void the next attempt pays again.
 */
export async function payStatement(
  tx: Transaction,
  actor: Actor,
  input: PayoutInput,
  run?: string,
): Promise<Result<PaidOut>> {
  await tx.$queryRaw`SELECT 1 FROM statement WHERE id = ${input.statementId}::uuid FOR UPDATE`;
  const statement = await findStatement(tx, input.statementId);
  if (!statement) return refuse("not-found", "There is no such statement.");
  const { sale } = statement.settlement;
  const strange = strangeDay(input.paidOn, sale.firstDay);
  if (strange) return refuseField("paidOn", strange);
  if (!allows(sale.stage as Stage, "pay-out"))
    return refuse("stage-closed", "No payout was recorded: the sale is not being settled.");
  if (statement.due <= 0n)
    return refuse("already-done", "Nothing is to be paid out for this statement.");
  const attempts = await tx.payout.findMany({
    where: { statementId: statement.id },
    include: { voided: true },
  });
  const standing = attempts.find(({ voided }) => !voided);
  if (standing) return refuse("already-done", await paidWords(tx, standing));
  const waiting = statement.runItems[0]?.run;
  if (waiting && waiting.id !== run)
    return refuse(
      "still-open",
      `This statement waits in paying run ${waiting.number}. Record it as paid there, or drop it from the run first.`,
    );
  const amount = Number(statement.due);
  const { id: statementId, memberId } = statement;
  const value = { payoutId: v7(), statementId, attempt: attempts.length + 1, amount };
  await tx.payout.create({ data: rowOf(input, value, actor.id) });
  await writeEntry(tx, {
    byId: actor.id,
    kind: "payout",
    description: `Payout of statement ${statement.number} to member ${statement.member.number}`,
    saleId: sale.id,
    subjectId: value.payoutId,
    postings: payoutPostings(memberId, amount, sourceOf(input.method)),
  });
  return ok(value);
}

const findStatement = (tx: Transaction, id: string) =>
  tx.statement.findUnique({
    where: { id },
    include: {
      settlement: { include: { sale: true } },
      member: true,
      runItems: { where: { outcome: null }, include: { run: true } },
    },
  });

/** A cheque may be dated ahead a little; a year typed wrong would stand in the books for ever. */
export function strangeDay(paidOn: string, firstDay: Date): string | undefined {
  const day = Date.parse(`${paidOn}T00:00:00Z`);
  if (day < firstDay.getTime()) return "This day is before the sale. Check the year.";
  if (day > Date.now() + 31 * 86_400_000)
    return "This day is more than a month ahead. Check the year.";
  return undefined;
}

const missing = {
  cheque: "Give the number of the cheque.",
  transfer: "Give the reference of the transfer.",
};

export const sourceOf = (method: string) => (method === "cash" ? accounts.cashBox : accounts.bank);

const rowOf = (input: PayoutInput, value: PaidOut, byId: string) => ({
  id: value.payoutId,
  statementId: value.statementId,
  attempt: value.attempt,
  method: input.method,
  reference: input.reference,
  amount: BigInt(value.amount),
  paidOn: new Date(`${input.paidOn}T00:00:00Z`),
  byId,
});

async function paidWords(
  tx: Transaction,
  payout: { method: string; reference: string; paidOn: Date; byId: string; at: Date },
): Promise<string> {
  const guild = await tx.guild.findFirstOrThrow();
  const who = await tx.member.findUniqueOrThrow({ where: { id: payout.byId } });
  const day = dayText(payout.paidOn.toISOString().slice(0, 10), guild.locale);
  const when = momentText(payout.at, guild.locale, guild.timeZone);
  const how = [payout.method, payout.reference].filter(Boolean).join(" ");
  return (
    `It was paid on ${day} by ${how}, as ${who.name} recorded on ${when}. ` +
    "Nothing was recorded twice; void that payout first if it was wrong."
  );
}
