import type { GuildGoodShown } from "../../../contract/till-device.ts";
import { parseMoney } from "../../../rules/currency.ts";
import { ask } from "./ask.ts";
import { withLine } from "./basket.ts";
import { key, make, part } from "./dom.ts";
import { goodsLine, roundUpLine } from "./lines.ts";
import { roundUps } from "./round-up.ts";
import type { Till } from "./till.ts";
import { askUntagged } from "./untagged-form.ts";

/** One key for each of the guild's goods, as the chair has put them in order. */
export function showGoods(till: Till): void {
  const { words } = till;
  const goods = till.scene.goods.toSorted((one, other) => one.position - other.position);
  part("goods").replaceChildren(
    ...goods.map((good) =>
      key(
        good.price === null
          ? `${good.name}\u00a0…`
          : [good.name, make("span", "sell-price", words.money(good.price))],
        () => sellGood(till, good),
      ),
    ),
    key("Round up …", () => askRoundUp(till)),
    key(["Without a tag\u00a0…", make("kbd", "", "W")], () => askUntagged(till)),
  );
}

function sellGood(till: Till, good: GuildGoodShown): void {
  const add = (price: number) => {
    till.change({
      basket: withLine(till.shown.basket, goodsLine(good, price, till.newId())),
      signal: { kind: "added", words: good.name },
    });
  };
  if (good.price === null) askAmount(till, good.name, "", [], add);
  else add(good.price);
}

/** Offers what makes the total a round one; any other gift can be typed. */
function askRoundUp(till: Till): void {
  const { total } = till.due().totals;
  const { currency } = till.scene.guild;
  const about = `The total is ${till.words.money(total)}. What is added goes to the guild, without tax.`;
  askAmount(till, "Round up for the guild", about, roundUps(total, currency), (amount) => {
    till.change({
      basket: withLine(till.shown.basket, roundUpLine(amount, till.newId())),
      signal: { kind: "added", words: "Thank you: a gift for the guild." },
    });
  });
}

function askAmount(
  till: Till,
  title: string,
  about: string,
  offers: readonly number[],
  add: (amount: number) => void,
): void {
  const dialog = ask("ask-amount", {
    title,
    about,
    take({ amount = "" }) {
      const typed = parseMoney(amount, till.scene.guild.currency);
      if (!typed.ok) return typed.problem.detail;
      if (typed.value === 0) return "Type an amount above zero.";
      add(typed.value);
      return undefined;
    },
  });
  const { total } = till.due().totals;
  dialog.querySelector("[data-offers]")!.replaceChildren(
    ...offers.map((amount) =>
      key(`+ ${till.words.money(amount)} = ${till.words.money(total + amount)}`, () => {
        add(amount);
        dialog.close();
      }),
    ),
  );
}
