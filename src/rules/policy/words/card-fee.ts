import { rateText } from "../../currency.ts";
import { accountsOf } from "../accounts.ts";
import type { CardFeePolicy, CardFeeWay } from "../card-fee.ts";
import { firstPolicy } from "../policy.ts";
import { nobodySpecial } from "./rates.ts";
import type { MoneyWords, PolicySection } from "./section.ts";

/** Who bears what the bank takes for card payments, a sentence for each way. */
export const cardFeeWords: Readonly<Record<CardFeeWay, string>> = {
  guild: "The guild bears the card fee; members see nothing of it.",
  price: "Members bear the card fee, shared by the prices of what cards paid.",
  charged:
    "Members bear the card fee as the terminal charges it: on price and tax, with the fixed amount of each receipt.",
  "before-share":
    "The card fee comes off the price first, and the guild takes its percentage of what is left: both bear it.",
};

export function cardFeeSection({ way, rate, fixed }: CardFeePolicy, money: MoneyWords) {
  const each = way === "charged" && fixed > 0 ? ` and ${money(fixed)} for each receipt` : "";
  const expected = `Until the bank's statement is known, the fee is taken as ${rateText(rate)} %${each}.`;
  const unknown = rate > 0 || each !== "" ? [expected] : [];
  const sentences = [cardFeeWords[way], ...unknown];
  return { title: "Card fee", sentences } satisfies PolicySection;
}

const [price, tax] = [10_000, 800];

/**
 * One way worked out with the rules themselves, on a made-up shawl: 10,000 smallest coins, taxed at
 * 8 %, 20 % for the guild, a card fee of 3 % and 30 smallest coins for each receipt.
 */
export function cardFeeExample(way: CardFeeWay, money: MoneyWords): string {
  const fixed = 30;
  const policy = { ...firstPolicy(20_000), cardFee: { way, rate: 3_000, fixed } };
  const { cardFee, members } = accountsOf(exampleBook, policy);
  const { guildShare, balance } = members[0]!;
  const each = way === "charged" ? ` and ${money(fixed)}` : "";
  return (
    `A shawl of ${money(price)} (${money(price + tax)} with tax), card fee 3 %${each}: the fee is ` +
    `${money(cardFee)}; of 20 % the guild has ${money(guildShare)} and the member ${money(balance)}.`
  );
}

const exampleBook = {
  members: [
    {
      ...{ memberId: "example", memberNumber: 1, seller: nobodySpecial, missing: [], carried: 0 },
      facts: { itemsEntered: 1, itemsLate: 0, firstSale: false, shiftsMissed: 0 },
      wish: { method: null, payAll: false },
    },
  ],
  lines: [
    {
      ...{ lineId: "1", receiptId: "1", memberId: "example", kind: "", donated: false },
      ...{ quantity: 1, amount: price, card: { price, tax } },
    },
  ],
  cardFee: null,
};
