import { identityLines, type MakerDetails } from "./identity.ts";
import type { Language } from "./language.ts";
import type { Pack } from "./pack.ts";
import { findPack } from "./packs/index.ts";

export const identityChoices = ["member", "guild", "number"] as const;
export type IdentityChoice = (typeof identityChoices)[number];

/** What the guild has decided about its labels. */
export interface GuildLabels {
  jurisdiction: string;
  /** Empty for what the law and the guild's own language call for. */
  labelLanguages: readonly string[];
  locale: string;
  labelIdentity: string;
  careSymbols: boolean;
  name: string;
  address: string;
  registeredNumber: string;
}

/** What a member puts on the labels of their own pieces. */
export interface MemberLabels {
  businessName: string;
  postalLine: string;
  registeredNumber: string;
}

/** How one member's labels are worked out. */
export interface LabelSetting {
  pack: Pack;
  languages: Language[];
  symbols: boolean;
  maker: MakerDetails;
}

/** Throws for a jurisdiction that we do not have: none such is ever stored. */
export function settingOf(guild: GuildLabels, member: MemberLabels): LabelSetting {
  const pack = findPack(guild.jurisdiction);
  if (!pack) throw new RangeError(`There are no label rules for ${guild.jurisdiction}`);
  return {
    pack,
    languages: languagesOf(guild, pack),
    symbols: guild.careSymbols,
    maker: makerOf(guild, member, pack),
  };
}

/** The guild's choice; without one, all that stand together by law, or else the guild's own. */
function languagesOf({ labelLanguages, locale }: GuildLabels, pack: Pack): Language[] {
  const chosen = pack.languages.filter((one) => labelLanguages.includes(one));
  if (chosen.length > 0) return chosen;
  if (pack.together) return [...pack.languages];
  const spoken = locale.slice(0, 2).toLowerCase();
  return [pack.languages.find((one) => one.startsWith(spoken)) ?? pack.languages[0]!];
}

/**
 * Who answers for a piece. A member who has given no name that the law takes is stood in for by
 * the guild, which sells the piece: a member's number alone is never an identity.
 */
function makerOf(guild: GuildLabels, member: MemberLabels, pack: Pack): MakerDetails {
  const guildName = { businessName: guild.name, address: oneLine(guild.address) };
  const { registeredNumber } = guild;
  if (guild.labelIdentity === "number" && registeredNumber !== "") return { registeredNumber };
  if (guild.labelIdentity !== "member") return guildName;
  const own: MakerDetails = {
    businessName: member.businessName,
    address: member.postalLine,
    registeredNumber: member.registeredNumber,
  };
  const identity = identityLines(own, pack);
  return identity.refusals.length === 0 && identity.lines.length > 0 ? own : guildName;
}

const oneLine = (lines: string): string =>
  lines
    .split("\n")
    .map((line) => line.trim())
    .filter(Boolean)
    .join(", ");
