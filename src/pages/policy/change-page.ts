import type { SaleRead } from "../../database/sales.ts";
import { cardFeeExample, cardFeeWords } from "../../rules/policy/words/card-fee.ts";
import { roundingExample } from "../../rules/policy/words/fees.ts";
import type { Problem } from "../../rules/problem.ts";
import type { GuildWords } from "../books/scene.ts";
import type { Typed } from "../sales/terms-rows.ts";
import { filledRows, type List, shownRows } from "./rows.ts";

interface Parts {
  sale: SaleRead;
  guild: GuildWords;
  kinds: { code: string; name: string }[];
  values: Typed;
  problem?: Problem | undefined;
}

const ways = ["guild", "price", "charged", "before-share"] as const;
const spareRows = 2;

/** The form over everything that a guild decides about money in a sale. */
export function changePage({ sale, guild, kinds, values, problem }: Parts) {
  const path = `/sales/${sale.id}/policy`;
  const { money } = guild;
  const rows = (list: List, name: string, spare = spareRows) =>
    shownRows(values, list, spare).map((at, index) => ({ at, name: `${name} ${index + 1}` }));
  return {
    title: "Change what the guild keeps",
    saleName: sale.name,
    backHref: path,
    effectAction: `${path}/effect`,
    classes: rows("rates.classes", "Class").map((row) => ({
      ...row,
      code: values[`${row.at}.code`] ?? "",
    })),
    classesOpen: filledRows(values, "rates.classes").length > 0,
    kindRows: rows("rates.kinds", "Kind"),
    kindsOpen: filledRows(values, "rates.kinds").length > 0,
    steps: rows("rates.hours", "Step"),
    tenders: rows("payout.tenders", "Way", 3),
    kinds: kinds.map(({ code, name }) => ({ value: code, label: name })),
    ways: ways.map((value) => ({
      ...{ value, label: cardFeeWords[value], hint: cardFeeExample(value, money) },
    })),
    bases: roundingChoices(money),
    values,
    problem,
  };
}

/** The example is that of the published rules on money, drawn with the guild's own currency. */
function roundingChoices(money: GuildWords["money"]) {
  const { pieces, price, line, statement } = roundingExample;
  const sold = `${pieces} pieces at ${money(price)} and 15 %`;
  return [
    { value: "line", label: "for each line", hint: `${sold}: ${money(line)} for the guild.` },
    {
      ...{ value: "statement", label: "once for each member's statement" },
      hint: `${sold}: ${money(statement)} for the guild.`,
    },
  ];
}
