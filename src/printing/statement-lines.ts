import { rateText } from "../rules/currency.ts";
import { dayIn, dayText } from "../rules/day.ts";
import { total } from "../rules/money.ts";
import type { FrozenLine, FrozenStatement } from "../rules/statement.ts";
import { groundsOf } from "../rules/statement-account.ts";
import { showTag } from "../rules/tag-number.ts";
import type { StatementData, StatementLine } from "./statement-data.ts";

type Money = (amount: number) => string;

/** The sold lines with their totals; where there are several grounds, numbers say which is whose. */
export function soldWords(
  { lines, heading }: FrozenStatement,
  money: Money,
): Pick<StatementData, "lines" | "totals" | "grounds"> {
  const grounds = groundsOf(lines);
  const numberOf = (ground: string) =>
    grounds.length > 1 && ground !== "" ? `(${grounds.indexOf(ground) + 1})` : "";
  const own = lines.filter(({ donated }) => !donated);
  const sum = (figure: "amount" | "guildShare" | "cardFee" | "net") =>
    money(total(own.map((line) => line[figure])));
  const hasCardFee = own.some(({ cardFee }) => cardFee !== 0);
  return {
    lines: lines.map((line) => ({
      ...lineWords(line, numberOf(line.ground), money, heading),
      cardFee: hasCardFee && !line.donated ? money(line.cardFee) : "",
    })),
    totals: {
      ...{ gross: sum("amount"), guildShare: sum("guildShare"), net: sum("net") },
      cardFee: hasCardFee ? sum("cardFee") : "",
    },
    grounds:
      grounds.length === 1
        ? [`Your percentage is ${grounds[0]}.`]
        : grounds.map((ground) => `${numberOf(ground)} ${ground}.`),
  };
}

/** A donated line keeps its figures out of the columns, so that each column adds up to its total. */
function lineWords(
  line: FrozenLine,
  number: string,
  money: Money,
  { locale, timeZone }: { locale: string; timeZone: string },
): Omit<StatementLine, "cardFee"> {
  const { amount, guildShare, net, rate, donated, quantity } = line;
  const back = quantity < 0 ? "Brought back: " : "";
  const given = donated ? ` (given to the guild, ${money(amount)})` : "";
  return {
    soldOn: dayText(dayIn(line.soldAt, timeZone), locale),
    tag: showTag(line.tag),
    description: `${back}${line.description}${given}`,
    quantity: String(quantity),
    amount: donated ? "" : money(amount),
    rate: donated ? "" : `${rateText(rate)} % ${number}`.trim(),
    guildShare: donated ? "" : money(guildShare),
    net: donated ? "" : money(net),
  };
}
