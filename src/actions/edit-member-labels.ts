import { type MemberLabelsInput, numberFault } from "../contract/label-settings.ts";
import { type Deed, perform } from "../database/perform.ts";
import { identityLines } from "../rules/labels/identity.ts";
import { settingOf } from "../rules/labels/label-setting.ts";
import { ok, type Result, refuseField } from "../rules/problem.ts";
import { changedMeanwhile } from "./sale-lock.ts";

export interface MemberLabelsChange extends MemberLabelsInput {
  version: number;
}

/** A member says who answers for their pieces; a number alone is refused with the rule. */
export const editMemberLabels = (
  deed: Deed,
  change: MemberLabelsChange,
): Promise<Result<{ version: number }>> =>
  perform(deed, "edit-member-labels", change, async (tx) => {
    const { version, ...data } = change;
    const guild = await tx.guild.findFirstOrThrow();
    const { pack } = settingOf(guild, data);
    const wrong = numberFault(data.registeredNumber, guild.jurisdiction);
    if (wrong) return refuseField("registeredNumber", wrong);
    if (data.businessName !== "") {
      const named = { businessName: data.businessName, address: data.postalLine };
      const [fault] = identityLines(
        { ...named, registeredNumber: data.registeredNumber },
        pack,
      ).refusals;
      if (fault)
        return refuseField(
          pack.identity.needsAddress && data.postalLine === "" ? "postalLine" : "businessName",
          `${fault.words} (${fault.source})`,
        );
    }
    const changed = await tx.member.updateMany({
      where: { id: deed.actor.id, version },
      data: { ...data, version: { increment: 1 } },
    });
    if (changed.count === 0) return changedMeanwhile();
    const value = { version: version + 1 };
    return ok({ value, subjectId: deed.actor.id, detail: { fields: Object.keys(data) } });
  });
