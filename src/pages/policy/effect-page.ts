import type { BookToShow } from "../../database/book-to-show.ts";
import type { SaleRead } from "../../database/sales.ts";
import { total } from "../../rules/money.ts";
import {
  byGreatestChange,
  type MemberEffect,
  type MemberFigures,
  type PolicyEffect,
} from "../../rules/policy/effect.ts";
import type { Policy } from "../../rules/policy/policy.ts";
import { type PolicyChange, policyChanges } from "../../rules/policy/words/policy-words.ts";
import type { GuildWords } from "../books/scene.ts";
import type { Typed } from "../sales/terms-rows.ts";

interface Parts {
  sale: SaleRead;
  guild: GuildWords;
  before: Policy;
  policy: Policy;
  /** Null where nothing was sold yet, here or earlier. */
  shown: { scene: BookToShow; effect: PolicyEffect } | null;
  typed: Typed;
  page: number;
  q: string;
}

const membersOnPage = 25;
const columns = [
  ["guildShare", "Guild share"],
  ["cardFee", "Card fee"],
  ["fees", "Fees"],
  ["losses", "For lost pieces"],
  ["balance", "Balance"],
] as const;

/** What another policy means for everybody, before it is decided. */
export function effectPage({ sale, guild, before, policy, shown, typed, page, q }: Parts) {
  const path = `/sales/${sale.id}`;
  const { _csrf, _key, go, page: _page, q: _q, ...hidden } = typed;
  return {
    title: "What it means for everybody",
    saleName: sale.name,
    backHref: `${path}/policy`,
    decideAction: `${path}/policies`,
    changeAction: `${path}/policy/change`,
    effectAction: `${path}/policy/effect`,
    hidden: Object.entries(hidden).map(([name, value]) => ({ name, value })),
    changes: policyChanges(before, policy, guild.money) satisfies PolicyChange[],
    reason: typed.reason,
    otherSale: shown && shown.scene.saleId !== sale.id ? shown.scene.saleName : undefined,
    q,
    table: shown && tableOf(shown, guild, { page, q }),
  };
}

function tableOf(
  { scene, effect }: NonNullable<Parts["shown"]>,
  { money }: GuildWords,
  { page, q }: { page: number; q: string },
) {
  const nameOf = ({ memberId }: MemberEffect) => scene.names.get(memberId) ?? "";
  const wanted = q.toLowerCase();
  const found = effect.members.filter(
    (one) => nameOf(one).toLowerCase().includes(wanted) || String(one.memberNumber) === wanted,
  );
  const sorted = found.toSorted(byGreatestChange);
  const from = (page - 1) * membersOnPage;
  const onPage = sorted.slice(from, from + membersOnPage);
  const sum = (side: "before" | "after", column: keyof MemberFigures) =>
    total(effect.members.map((one) => one[side][column]));
  const change = total(effect.members.map((one) => one.change));
  const bank = 0 - change - effect.guild.change;
  return {
    rows: onPage.map((one) => ({
      ...{ number: one.memberNumber, name: nameOf(one), ...changeWords(one.change, money) },
      cells: columns.map(([column, label]) => ({
        ...{ label, ...cell(one.before[column], one.after[column], money) },
      })),
    })),
    people: effect.members.length,
    touched: effect.members.filter((one) => one.change !== 0).length,
    columns: columns.map(([, label]) => label),
    totals: columns.map(([column, label]) => ({
      ...{ label, ...cell(sum("before", column), sum("after", column), money) },
    })),
    total: changeWords(change, money),
    guild: {
      ...cell(effect.guild.before, effect.guild.after, money),
      ...changeWords(effect.guild.change, money),
    },
    bank: bank === 0 ? "" : changeWords(bank, money).change,
    previous: page > 1 ? page - 1 : undefined,
    next: from + onPage.length < sorted.length ? page + 1 : undefined,
    text: `${onPage.length} of ${sorted.length} members, the greatest change first`,
  };
}

type Money = GuildWords["money"];

const cell = (before: number, after: number, money: Money) => ({
  before: before === after ? "" : money(before),
  after: money(after),
});

function changeWords(change: number, money: Money) {
  if (change === 0) return { change: "no change", negative: false };
  return {
    change: change > 0 ? `+${money(change)}` : `−${money(0 - change)}`,
    negative: change < 0,
  };
}
