import { rateText } from "../../currency.ts";
import type { PayoutMethod } from "../../statement.ts";
import type { LossPolicy } from "../loss.ts";
import type { PayoutPolicy, PayoutTender } from "../payout.ts";
import type { MoneyWords, PolicySection } from "./section.ts";

export function lossSection(loss: LossPolicy, money: MoneyWords): PolicySection {
  const title = "Pieces that get lost";
  if (loss.rule === "none")
    return { title, sentences: ["The guild pays nothing for a piece that is missing at the end."] };
  const whole = "For a missing piece the guild pays its price less the guild's percentage";
  if (loss.rule === "price-less-share") return { title, sentences: [`${whole}.`] };
  const { cap, aboveCap } = loss;
  const sentence = `${whole}: in full up to ${money(cap)}, and ${rateText(aboveCap)} % of what lies above.`;
  return { title, sentences: [sentence] };
}

/** How a way of paying is called in the middle of a sentence. */
export const payMethodWords: Readonly<Record<PayoutMethod, string>> = {
  cheque: "by cheque",
  transfer: "by bank transfer",
  cash: "in cash",
};

export function payingSection({ minimum, tenders }: PayoutPolicy, money: MoneyWords) {
  const ways = tenders.map((tender) => wayOf(tender, money)).join(", or ");
  const held =
    minimum > 0
      ? [`Less than ${money(minimum)} is kept for the member and paid with the next sale.`]
      : [];
  const choice =
    tenders.length > 1
      ? ["The first that fits the amount pays, unless a member asks for another."]
      : [];
  const owed = "Who owes the guild more than was sold carries it to the next sale.";
  const sentences = [`The guild pays ${ways}.`, ...choice, ...held, owed];
  return { title: "How members are paid", sentences } satisfies PolicySection;
}

const wayOf = ({ method, upTo }: PayoutTender, money: MoneyWords): string =>
  payMethodWords[method] + (upTo === null ? "" : ` up to ${money(upTo)}`);
