import type { PayingSettingsInput } from "../contract/paying.ts";
import { type Deed, perform } from "../database/perform.ts";
import { accountFaults, tidyAccount } from "../rules/paying/bank-account.ts";
import { ok, problem, type Result } from "../rules/problem.ts";
import { changedMeanwhile } from "./sale-lock.ts";

/** The guild's own account, and when members are reminded. Runs that are prepared keep theirs. */
export const editPayingSettings = (
  deed: Deed,
  change: PayingSettingsInput,
): Promise<Result<{ version: number }>> =>
  perform(deed, "edit-paying-settings", change, async (tx) => {
    const { version, ...typed } = change;
    const errors = accountFaults(typed);
    if (errors[0])
      return { ok: false, problem: problem("invalid-input", errors[0].message, errors) };
    const changed = await tx.payingSetting.updateMany({
      where: { id: 1, version },
      data: { ...typed, account: tidyAccount(typed.account), version: { increment: 1 } },
    });
    if (changed.count === 0) return changedMeanwhile();
    const { remindFirst, remindAgain } = typed;
    const value = { version: version + 1 };
    return ok({ value, subjectId: "paying-settings", detail: { remindFirst, remindAgain } });
  });
