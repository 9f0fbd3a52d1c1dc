import type { SaleRead } from "../../database/sales.ts";
import type { SettlementPreview } from "../../database/settlement-preview.ts";
import { rateText } from "../../rules/currency.ts";
import { momentText } from "../../rules/moment.ts";
import type { Problem } from "../../rules/problem.ts";
import { allows } from "../../rules/sale-stage.ts";
import { showTag } from "../../rules/tag-number.ts";
import type { GuildWords } from "./scene.ts";

interface Parts {
  sale: SaleRead;
  guild: GuildWords;
  preview: SettlementPreview;
  openTills: string[];
  /** The last member number of the page before. */
  after: number;
  problem?: Problem;
}

const membersOnPage = 25;

/** Who would be owed what, a page of members at a time; the totals are those of everybody. */
export function previewPage({ sale, guild, preview, openTills, after, problem }: Parts) {
  const rest = preview.members.filter(({ memberNumber }) => memberNumber > after);
  const shown = rest.slice(0, membersOnPage);
  const path = `/books/${sale.id}/settlement`;
  const last = rest.length > shown.length ? shown.at(-1) : undefined;
  return {
    title: `Settlement of ${sale.name}`,
    problem,
    sale,
    path,
    rate: `${rateText(sale.guildRate)} %`,
    allowed: allows(sale.stage, "settle"),
    openTills: openTills.join(", "),
    fingerprint: preview.fingerprint,
    isEmpty: preview.lines === 0,
    people: preview.members.length,
    lines: preview.lines,
    gross: guild.money(preview.gross),
    guildShare: guild.money(preview.guildShare),
    net: guild.money(preview.net),
    members: shown.map((member) => memberRow(member, guild)),
    next: last ? `${path}?after=${last.memberNumber}` : undefined,
    pageText: `${shown.length} of ${preview.members.length} members`,
  };
}

const memberRow = (member: SettlementPreview["members"][number], guild: GuildWords) => ({
  number: member.memberNumber,
  name: member.memberName,
  gross: guild.money(member.gross),
  guildShare: guild.money(member.guildShare),
  net: guild.money(member.net),
  negative: member.net < 0,
  donated: member.donated === 0 ? "" : guild.money(member.donated),
  lines: member.lines.map((line) => ({
    at: momentText(line.soldAt, guild.locale, guild.timeZone),
    tag: showTag(line.tag),
    description: line.quantity < 0 ? `Brought back: ${line.description}` : line.description,
    quantity: line.quantity,
    amount: guild.money(line.amount),
    shares: line.donated
      ? "donated, all to the guild"
      : `guild ${guild.money(line.guildShare)}, member ${guild.money(line.net)}`,
  })),
});
