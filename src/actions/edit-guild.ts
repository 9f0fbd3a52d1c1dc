import type { GuildChange } from "../contract/guild.ts";
import { numberFault } from "../contract/label-settings.ts";
import type { Transaction } from "../database/client.ts";
import { type Deed, perform } from "../database/perform.ts";
import type { GuildLabels } from "../rules/labels/label-setting.ts";
import { findPack } from "../rules/labels/packs/index.ts";
import { type FieldError, ok, problem, type Result, refuse } from "../rules/problem.ts";
import { firstMemberNumber, lastMemberNumber, type TagLength } from "../rules/tag-number.ts";
import { lockGuild } from "./guild-lock.ts";
import { changedMeanwhile } from "./sale-lock.ts";

/** Changes the guild's settings. What money and tags rest on stays once the first item is entered. */
export const editGuild = (
  deed: Deed,
  change: GuildChange,
): Promise<Result<{ version: number; renumbered: boolean }>> =>
  perform(deed, "edit-guild", change, async (tx) => {
    const { version, ...data } = change;
    await lockGuild(tx);
    const guild = await tx.guild.findFirstOrThrow();
    if (guild.version !== version) return changedMeanwhile();
    const deep = deepChanges(guild, change);
    if (deep.length > 0 && (await isInUse(tx)))
      return refuse("invalid-input", "Goods or cash are recorded already, so these stay.", deep);
    const labels = labelFaults({ ...guild, ...data });
    if (labels.length > 0)
      return refuse("invalid-input", "The label settings do not go together.", labels);
    const renumbered = data.tagLength !== undefined && data.tagLength !== guild.tagLength;
    if (renumbered) {
      const refused = await renumber(tx, data.tagLength as TagLength);
      if (refused) return refused;
    }
    await tx.guild.update({ where: { id: 1 }, data: { ...data, version: { increment: 1 } } });
    const value = { version: version + 1, renumbered };
    return ok({ value, subjectId: "guild", detail: { fields: Object.keys(data) } });
  });

/** Languages the country's rules do not have, and a number that is none there. */
function labelFaults({ jurisdiction, labelLanguages, labelIdentity, registeredNumber }: Labels) {
  const pack = findPack(jurisdiction);
  const errors: FieldError[] = [];
  if (!pack) errors.push({ field: "jurisdiction", message: "Choose whose label rules apply." });
  const other = labelLanguages.find((one) => !pack?.languages.some((known) => known === one));
  if (pack && other)
    errors.push({ field: "labelLanguages", message: `${pack.name}: ${pack.languageRule.words}` });
  const wrong = numberFault(registeredNumber, jurisdiction);
  if (wrong) errors.push({ field: "registeredNumber", message: wrong });
  if (!wrong && labelIdentity === "number" && registeredNumber === "")
    errors.push({ field: "registeredNumber", message: "Type the number that is to be printed." });
  return errors;
}

type Labels = Pick<
  GuildLabels,
  "jurisdiction" | "labelLanguages" | "labelIdentity" | "registeredNumber"
>;

function deepChanges(
  guild: { currency: string; tagLength: number },
  change: GuildChange,
): FieldError[] {
  return (["currency", "tagLength"] as const)
    .filter((field) => change[field] !== undefined && change[field] !== guild[field])
    .map((field) => ({ field, message: "This stays: goods or cash are recorded already." }));
}

/** Whether an item has a tag or a drawer has been filled; no item can slip in before the end. */
async function isInUse(tx: Transaction): Promise<boolean> {
  await tx.$executeRaw`LOCK TABLE item, till_session IN SHARE ROW EXCLUSIVE MODE`;
  const item = await tx.item.findFirst({ select: { id: true } });
  const session = await tx.tillSession.findFirst({ select: { id: true } });
  return item !== null || session !== null;
}

/** Tags begin with the member's number, so another length of tags moves every number along. */
async function renumber(tx: Transaction, length: TagLength) {
  const shift = length === 10 ? 900 : -900;
  const numbers = await tx.member.aggregate({ _min: { number: true }, _max: { number: true } });
  const lowest = (numbers._min.number ?? firstMemberNumber(length)) + shift;
  const highest = (numbers._max.number ?? firstMemberNumber(length)) + shift;
  if (lowest < firstMemberNumber(length) || highest > lastMemberNumber(length)) {
    const message = `Tags of ${length} digits have no room for all the guild's members.`;
    return { ok: false as const, problem: problem("limit-reached", message) };
  }
  await tx.$executeRaw`UPDATE member SET number = number + ${shift}`;
  await tx.$executeRaw`
    UPDATE account a SET name = 'Member ' || m.number FROM member m WHERE a.key = 'member/' || m.id`;
  return undefined;
}
