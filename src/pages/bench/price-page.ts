import type { PricePool } from "../../database/like-pieces.ts";
import type { HelpRead } from "../../database/price-help.ts";
import { rateText } from "../../rules/currency.ts";
import { nearestWhole } from "../../rules/fraction.ts";
import { cardFeeWords } from "../../rules/policy/words/card-fee.ts";
import { costFigures } from "../../rules/price/price-help.ts";
import { packScene } from "../../rules/price/slider.ts";
import { noPriceWords, priceCells } from "../../rules/price/words.ts";
import { hoursText } from "../../rules/work-hours.ts";
import type { GuildWords } from "../books/scene.ts";

const whens = {
  now: "as it stands now",
  work: "if you work that much",
  else: "if the guild counts you so",
  typed: "",
} as const;

/** The answer as the page shows it: costs, a table of prices, and a price to try out. */
export function helpView({ sale, scene, help }: HelpRead, { locale, money }: GuildWords) {
  const { card, tax, prices } = scene;
  const words = help.rows.map(({ why, rate, when }) => ({
    ...{ why, rate, rateText: rateText(rate), when: whens[when] },
  }));
  const feeCounts = card.way !== "guild" && (card.rate > 0 || card.fixed > 0);
  return {
    saleName: sale?.name,
    step: money(prices.priceStep),
    costs: costRows(help.cost, money),
    rows: help.rows.map(({ wanted }, index) => ({
      ...words[index]!,
      ...(typeof wanted === "string"
        ? { none: noPriceWords[wanted] }
        : { price: money(wanted.price), ...priceCells(wanted, money) }),
    })),
    cardFee: feeCounts ? `Worked out as if a card paid. ${cardFeeWords[card.way]}` : undefined,
    notes: help.notes,
    warnings: help.warnings,
    shifts: help.shifts.map(({ why, minutes, payPerHour }) => ({
      ...{ why, more: hoursText(minutes), pay: money(payPerHour) },
    })),
    at: help.price === null ? undefined : atView(help.price),
  };

  function atView(price: number) {
    return {
      price: money(price),
      cells: help.rows.map(({ atPrice }, index) => ({
        ...words[index]!,
        ...priceCells(atPrice!, money),
      })),
      slider: { step: prices.priceStep, value: price, ...rangeOf(price) },
      scene: packScene({ needs: help.cost, card, tax, prices, locale }),
    };
  }

  /** From a step to twice the dearest figure on the page, in whole steps. */
  function rangeOf(price: number) {
    const { priceStep } = prices;
    const tags = help.rows.flatMap(({ wanted }) =>
      typeof wanted === "string" ? [] : [wanted.price],
    );
    const highest = 2 * Math.max(price, ...tags);
    return { least: priceStep, most: highest - (highest % priceStep) + priceStep };
  }
}

/** What one piece takes, a line for each part that there is. */
function costRows(cost: HelpRead["help"]["cost"], money: GuildWords["money"]) {
  const figures = costFigures(cost);
  const minutes = Number(nearestWhole(cost.minutes));
  const parts = [
    { label: "Materials", amount: figures.materials },
    { label: "Notions and tags", amount: figures.notions },
    { label: "Overhead", amount: figures.overhead },
    { label: "Its part of the entry fee", amount: figures.entryFee },
    { label: "For pieces that do not sell", amount: figures.unsold },
  ].filter(({ amount }) => amount !== 0);
  return [
    ...parts.map(({ label, amount }) => ({ label, value: money(amount) })),
    { label: "Cost together", value: money(figures.cost) },
    { label: "Hours", value: minutes === 0 ? "no hours given" : hoursText(minutes) },
    { label: "Your work at the wanted pay", value: money(figures.labour) },
  ];
}

const alikes: Readonly<Record<PricePool["alike"], string>> = {
  kind: "of this kind",
  fibre: "of this kind and chief fibre",
  size: "of this kind and about this size",
  "fibre-and-size": "of this kind, chief fibre and about this size",
};

/** What like pieces sold for, in two sentences; undefined when there are too few. */
export const poolView = (pool: PricePool | null, { money }: Pick<GuildWords, "money">) =>
  pool
    ? {
        ...{ pieces: pool.pieces, alike: alikes[pool.alike] },
        ...{ low: money(pool.low), middle: money(pool.middle), high: money(pool.high) },
      }
    : undefined;
