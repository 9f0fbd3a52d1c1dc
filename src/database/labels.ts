import type { Fibre } from "../rules/fibre.ts";
import { wholeDetails } from "../rules/labels/details.ts";
import { type ItemLabel, itemLabel } from "../rules/labels/item-label.ts";
import type { LabelledItem } from "../rules/labels/label-contents.ts";
import {
  type GuildLabels,
  type LabelSetting,
  type MemberLabels,
  settingOf,
} from "../rules/labels/label-setting.ts";
import type { Transaction } from "./client.ts";

/** What has to be read with an item so that its label can be worked out. */
export const withLabel = {
  kind: { select: { code: true, labelGroup: true } },
  member: {
    select: {
      number: true,
      name: true,
      businessName: true,
      postalLine: true,
      registeredNumber: true,
    },
  },
} as const;

export interface LabelRow {
  description: string;
  fibres: unknown;
  labelDetails: unknown;
  kind: { code: string; labelGroup: string };
  member: MemberLabels;
}

export const labelledItem = (row: LabelRow): LabelledItem => ({
  title: row.description,
  kind: row.kind.labelGroup || row.kind.code,
  fibres: row.fibres as Fibre[],
  label: wholeDetails(row.labelDetails as object),
});

/** The label of an item as it would print now, with its reasons. */
export const labelOf = (row: LabelRow, guild: GuildLabels): ItemLabel =>
  itemLabel(labelledItem(row), settingOf(guild, row.member));

/** How the labels of one member's pieces are worked out. */
export async function settingFor(db: Transaction, memberId: string): Promise<LabelSetting> {
  const guild = await db.guild.findFirstOrThrow();
  return settingOf(guild, await db.member.findUniqueOrThrow({ where: { id: memberId } }));
}

/** The label of one stored item; throws for an item that is not there. */
export async function findLabel(db: Transaction, itemId: string): Promise<ItemLabel> {
  const guild = await db.guild.findFirstOrThrow();
  const row = await db.item.findUniqueOrThrow({ where: { id: itemId }, include: withLabel });
  return labelOf(row, guild);
}
