import type { PolicyChangeInput } from "../contract/policy.ts";
import { canonical } from "../database/canonical.ts";
import type { Database, Transaction } from "../database/client.ts";
import { type Deed, perform } from "../database/perform.ts";
import { policyOf } from "../database/policies.ts";
import type { SaleRead } from "../database/sales.ts";
import { formatMoney } from "../rules/currency.ts";
import { checkPolicy } from "../rules/policy/check-policy.ts";
import type { Policy } from "../rules/policy/policy.ts";
import { changeText, policyChanges } from "../rules/policy/words/policy-words.ts";
import {
  type FieldError,
  ok,
  problem,
  type Result,
  refuse,
  refuseField,
} from "../rules/problem.ts";
import { allows } from "../rules/sale-stage.ts";
import { changedMeanwhile, lockSale } from "./sale-lock.ts";

/** Gives a sale a new policy: a new version, beside the ones that held before. */
export const changePolicy = (
  deed: Deed,
  given: PolicyChangeInput & { saleId: string },
): Promise<Result<{ version: number }>> =>
  perform(deed, "change-policy", given, async (tx) => {
    const { saleId, reason } = given;
    // A settlement holds the sale while it is written, so either it or this policy comes first.
    const sale = await lockSale(tx, saleId);
    if (!sale.ok) return sale;
    const judged = await judgePolicyChange(tx, sale.value, given);
    if (!judged.ok) return judged;
    const { before, policy } = judged.value;
    const version = given.replaces + 1;
    await tx.salePolicy.create({
      data: { saleId, version, policy: policy as object, reason, byId: deed.actor.id },
    });
    const { currency, locale } = await tx.guild.findFirstOrThrow();
    const changes = policyChanges(before, policy, (one) => formatMoney(one, currency, locale));
    return ok({
      value: { version },
      subjectId: saleId,
      detail: { version, reason, changes: changes.map(changeText) },
    });
  });

/** Whether a sale may have this policy now; gives it with the names of its kinds as they are. */
export async function judgePolicyChange(
  db: Database | Transaction,
  sale: SaleRead,
  { policy: wanted, replaces, reason }: PolicyChangeInput,
): Promise<Result<{ before: Policy; policy: Policy }>> {
  const refused = await refusedNow(db, sale);
  if (refused) return refused;
  const { version, policy: before } = await policyOf(db, sale.id);
  if (version !== replaces) return changedMeanwhile();
  const read = await soundPolicy(db, wanted);
  if (!read.ok) return read;
  if (reason === "" && (await wereEntriesOpen(db, sale)))
    return refuseField("reason", "Say why: members may have entered under what held before.");
  const policy = read.value;
  if (canonical(policy) === canonical(before))
    return refuseField("policy", "This is the policy that holds already.");
  return ok({ before, policy });
}

/** Why the policy of a sale stays as it is, if it does. */
export async function refusedNow(db: Database | Transaction, { id, stage }: SaleRead) {
  if (!allows(stage, "edit-policy"))
    return refuse("stage-closed", "This sale is closed, and its policy stays as it was.");
  if ((await db.settlement.count({ where: { saleId: id } })) > 0)
    return refuse(
      "already-done",
      "This sale is settled, and what members were told stays. Put things right with an adjustment.",
    );
  return undefined;
}

/** A policy that is sound and names kinds of the guild's list, under the names they have there. */
export async function soundPolicy(
  db: Database | Transaction,
  policy: Policy,
): Promise<Result<Policy>> {
  const kinds = await db.kind.findMany({
    where: { code: { in: policy.rates.kinds.map(({ kind }) => kind) } },
  });
  const names = new Map(kinds.map(({ code, name }) => [code, name]));
  const unknown = policy.rates.kinds.flatMap(({ kind }, index): FieldError[] =>
    names.has(kind) ? [] : [{ field: `rates.kinds.${index}.kind`, message: notListed }],
  );
  const errors = [...unknown, ...checkPolicy(policy)].map(({ field, message }) => ({
    ...{ field: `policy.${field}`, message },
  }));
  if (errors[0]) return { ok: false, problem: problem("invalid-input", errors[0].message, errors) };
  const named = policy.rates.kinds.map((one) => ({ ...one, name: names.get(one.kind)! }));
  return ok({ ...policy, rates: { ...policy.rates, kinds: named } });
}

const notListed = "Choose a kind from the guild's list.";

/** Entries that were open once count, also when the chair went back to planning since. */
const wereEntriesOpen = async (db: Database | Transaction, { id, stage }: SaleRead) =>
  stage !== "planning" || (await db.stageChange.count({ where: { saleId: id } })) > 0;
