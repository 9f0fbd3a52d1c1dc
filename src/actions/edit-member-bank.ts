import type { MemberBankInput } from "../contract/paying.ts";
import { type Deed, perform } from "../database/perform.ts";
import { accountFaults, tidyAccount } from "../rules/paying/bank-account.ts";
import { ok, problem, type Result, refuse, refuseField } from "../rules/problem.ts";
import { hasAny } from "../rules/roles.ts";
import { changedMeanwhile } from "./sale-lock.ts";

/**
 * How a member is paid: typed by the member, or for them by the treasurer or the chair. The audit
 * list tells who typed it and never the account itself.
 */
export const editMemberBank = (
  deed: Deed,
  memberId: string,
  change: MemberBankInput,
): Promise<Result<{ version: number }>> =>
  perform(
    deed,
    "edit-member-bank",
    { memberId, ...change },
    async (tx) => {
      const mayType =
        deed.actor.id === memberId || hasAny(deed.actor.roles, ["treasurer", "chair"]);
      const member = mayType ? await tx.member.findUnique({ where: { id: memberId } }) : null;
      if (!member) return refuse("not-found", "There is no such member. Nothing was recorded.");
      const { version, ...typed } = change;
      const errors = accountFaults(typed);
      if (errors[0])
        return { ok: false, problem: problem("invalid-input", errors[0].message, errors) };
      if (typed.payMethod === "transfer" && typed.account === "")
        return refuseField("account", "Give the account, or choose another way of being paid.");
      const data = { ...typed, account: tidyAccount(typed.account) };
      if (version === 0) await tx.memberBank.create({ data: { memberId, ...data } });
      else {
        const changed = await tx.memberBank.updateMany({
          where: { memberId, version },
          data: { ...data, version: { increment: 1 } },
        });
        if (changed.count === 0) return changedMeanwhile();
      }
      const value = { version: version + 1 };
      const detail = { member: member.number, payMethod: typed.payMethod ?? "no wish" };
      return ok({ value, subjectId: memberId, detail });
    },
    { member_bank_pkey: () => changedMeanwhile().problem },
  );
