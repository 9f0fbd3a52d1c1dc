import type { SaleCounts } from "../../database/sale-facts.ts";
import type { SaleRead } from "../../database/sales.ts";
import { formatMoney, rateText } from "../../rules/currency.ts";
import type { Problem } from "../../rules/problem.ts";
import { allows, nextStage, previousStage, type Stage, stages } from "../../rules/sale-stage.ts";
import { backWords, stageWords } from "../../rules/stage-words.ts";
import { daysText, type Region, whenText } from "../format.ts";
import { termsText } from "./terms-page.ts";

export interface OverviewParts {
  sale: SaleRead;
  guild: Region & { currency: string };
  counts: SaleCounts;
  tills: { number: number; name: string; open: boolean }[];
  accepted: number;
  isChair: boolean;
  /** Whether the viewer sees and decides what the guild keeps. */
  decides: boolean;
  problem?: Problem;
  values?: unknown;
}

/** One sale at a glance: where it stands, what that allows and the one next step. */
export function overviewPage(parts: OverviewParts) {
  const { sale, guild, counts, tills, accepted, isChair, decides, problem, values } = parts;
  const next = nextStage(sale.stage);
  const back = previousStage(sale.stage);
  return {
    title: sale.name,
    sale,
    isChair,
    decides,
    mayChange: isChair && allows(sale.stage, "edit-sale"),
    when: daysText(sale.firstDay, sale.lastDay, guild),
    stages: stageList(sale.stage),
    allows: stageWords[sale.stage].allows,
    next: next && { to: next, label: stageWords[next].enter, allows: stageWords[next].allows },
    back: back && { to: back, label: backWords(back) },
    counts,
    tills: tills.map((till) => ({ ...till, label: `Till ${till.number}: ${till.name}` })),
    facts: factsOf(sale, guild, accepted, { isChair, decides }),
    problem,
    values,
  };
}

function stageList(stage: Stage) {
  const now = stages.indexOf(stage);
  return stages.map((each, index) => ({
    label: stageWords[each].label,
    state: index < now ? "done" : index === now ? "now" : "next",
  }));
}

function factsOf(
  sale: SaleRead,
  guild: OverviewParts["guild"],
  accepted: number,
  { isChair, decides }: { isChair: boolean; decides: boolean },
) {
  const money = (amount: number) => formatMoney(amount, guild.currency, guild.locale);
  return [
    { label: "Place", value: sale.place || "not given yet" },
    { label: "Entries end", value: whenText(sale.entryDeadline, guild) },
    {
      label: "The guild keeps",
      value: `${rateText(sale.guildRate)} % as a rule`,
      ...(decides ? { href: `/sales/${sale.id}/policy`, link: "Look or change" } : {}),
    },
    {
      label: "Tax and cash at the till",
      value: termsText(sale, guild),
      ...(isChair ? { href: `/sales/${sale.id}/terms`, link: "Look or change" } : {}),
    },
    {
      label: "Prices",
      value: `from ${money(sale.priceFloor)}, in steps of ${money(sale.priceStep)}`,
    },
    {
      label: "Limit for each member",
      value: sale.itemLimit === null ? "none" : `${sale.itemLimit} items`,
    },
    {
      label: "Agreement",
      value: `version ${sale.agreementVersion}, accepted by ${accepted === 1 ? "1 member" : `${accepted} members`}`,
      href: `/sales/${sale.id}/agreement`,
      link: "Read",
    },
  ];
}
