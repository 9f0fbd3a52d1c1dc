import { formatMoney } from "../rules/currency.ts";
import { dayText } from "../rules/day.ts";
import type { Minor } from "../rules/money.ts";
import { groupTitles, type SoldReport, shownDimensions } from "../rules/sold/report.ts";
import {
  figureCells,
  givenWords,
  payNote,
  piecesWords,
  soldWords,
  soonWords,
} from "../rules/sold/words.ts";
import type { Flow } from "./flow.ts";
import { printRunPaper } from "./run-paper.ts";
import type { PaperName } from "./sheet.ts";
import type { Column } from "./table.ts";
import { drawFacts, drawSection } from "./till-paper.ts";

export interface SoldSummary {
  guild: { name: string; address: string; currency: string; locale: string; paper: string };
  member: { number: number; name: string };
  /** The day it is printed, "2026-11-27". */
  day: string;
  report: SoldReport;
}

const columnsOf = (what: string): Column[] => [
  { heading: what, align: "left", wide: true },
  { heading: "Sold", align: "left" },
  { heading: "Average", align: "right" },
  { heading: "Sold for", align: "right" },
  { heading: "Kept", align: "right" },
  { heading: "Yours", align: "right" },
  { heading: "Not settled", align: "right" },
  { heading: "An hour (pieces)", align: "right" },
];

/** A member's summary of what sold, for their own file. The same figures give the same bytes. */
export function printSoldSummary(
  { guild, member, day, report }: SoldSummary,
  createdAt: Date,
): Promise<Uint8Array> {
  const money = (amount: Minor) => formatMoney(amount, guild.currency, guild.locale);
  const head = {
    ...{ title: "What sold", about: "At the guild's sales and elsewhere" },
    ...{ guildName: guild.name, guildLines: guild.address.split("\n").filter(Boolean) },
    run: `Member ${member.number} ${member.name}`,
    ...{ day: dayText(day, guild.locale), sum: piecesWords(report.all.sold) },
  };
  return printRunPaper(head, { paper: guild.paper as PaperName, createdAt }, (flow) => {
    drawFacts(flow, factsOf(report, money));
    for (const name of shownDimensions) {
      const [title, what] = groupTitles[name];
      const rows = report.groups[name].map(({ label, figures }) => {
        const { sold, average, takings, kept, left, open, pay } = figureCells(figures, money);
        const count = name === "pace" ? piecesWords(figures.sold) : sold;
        return [label, count, average, takings, kept, left, open, pay];
      });
      drawSection(flow, title, columnsOf(what), rows);
    }
    drawNext(flow, report);
  });
}

function factsOf({ all }: SoldReport, money: (amount: Minor) => string) {
  const { average, takings, kept, left, open } = figureCells(all, money);
  return [
    { label: "Pieces sold", value: soldWords(all) },
    { label: "Average price", value: average },
    { label: "Sold for", value: takings },
    { label: "Kept", value: `${kept} by the guild or the outlet, as far as it is settled` },
    { label: "Yours", value: `${left}, as far as it is settled` },
    { label: "Not settled yet", value: open },
    { label: "An hour brought", value: all.pay.perHour === null ? "" : money(all.pay.perHour) },
    { label: "To know", value: payNote(all) },
    { label: "How soon", value: soonWords(all) },
    { label: "Gifts", value: givenWords(all, money) },
  ].filter(({ value }) => value !== "");
}

function drawNext(flow: Flow, { facts }: SoldReport): void {
  const words = [...facts.kind, ...facts.fibre, ...facts.colour];
  if (words.length === 0) return;
  flow.need(60);
  flow.paragraph(flow.faces.bold, 11, "What to weave next: facts, not advice");
  flow.space(4);
  for (const fact of words) flow.paragraph(flow.faces.regular, 9.5, fact.words);
}
