import { isMinor, isRate, type Rate, wholeRate } from "../money.ts";
import type { FieldError } from "../problem.ts";
import type { RatePolicy } from "./guild-rate.ts";
import type { Policy } from "./policy.ts";

/** What is wrong with a policy, field by field ("rates.hours.1.fromMinutes"); empty when sound. */
export const checkPolicy = (policy: Policy): FieldError[] => [
  ...checkRates(policy.rates),
  ...checkAmounts(policy),
  ...checkCardFee(policy),
  ...checkTenders(policy),
];

function checkRates({ ordinary, visitor, committee, classes, kinds, hours }: RatePolicy) {
  const single: [string, Rate | null][] = [
    ["ordinary", ordinary],
    ["visitor", visitor],
    ["committee", committee],
    ...classes.map(({ rate }, index): [string, Rate] => [`classes.${index}.rate`, rate]),
    ...kinds.map(({ rate }, index): [string, Rate] => [`kinds.${index}.rate`, rate]),
    ...hours.map(({ rate }, index): [string, Rate] => [`hours.${index}.rate`, rate]),
  ];
  const errors = single
    .filter(([, rate]) => rate !== null && !isRate(rate))
    .map(([at]) => wrong(`rates.${at}`, "A percentage lies between 0 and 100."));
  for (const index of repeated(classes.map(({ code }) => code)))
    errors.push(wrong(`rates.classes.${index}.code`, "This class of members stands here twice."));
  for (const index of repeated(kinds.map(({ kind }) => kind)))
    errors.push(wrong(`rates.kinds.${index}.kind`, "This kind of goods stands here twice."));
  for (const [index, { fromMinutes }] of hours.entries())
    if (!isMinor(fromMinutes) || fromMinutes <= (hours[index - 1]?.fromMinutes ?? 0))
      errors.push(
        wrong(
          `rates.hours.${index}.fromMinutes`,
          "Each step needs more hours than the one before.",
        ),
      );
  return errors;
}

function checkAmounts({ fees, cardFee, loss, payout }: Policy): FieldError[] {
  const amounts: [string, number | null][] = [
    ["fees.entry", fees.entry],
    ["fees.firstEntry", fees.firstEntry],
    ["fees.late", fees.late],
    ["fees.missedShift", fees.missedShift],
    ["cardFee.fixed", cardFee.fixed],
    ["loss.cap", loss.rule === "capped" ? loss.cap : null],
    ["payout.minimum", payout.minimum],
    ...payout.tenders.map(({ upTo }, index): [string, number | null] => [
      `payout.tenders.${index}.upTo`,
      upTo,
    ]),
  ];
  const errors = amounts
    .filter(([, amount]) => amount !== null && (!isMinor(amount) || amount < 0))
    .map(([at]) => wrong(at, "Type an amount of zero or more."));
  if (loss.rule === "capped" && !isRate(loss.aboveCap))
    errors.push(wrong("loss.aboveCap", "A percentage lies between 0 and 100."));
  return errors;
}

/** Guild and card fee together must leave something of the price for the member. */
function checkCardFee({ rates, cardFee }: Policy): FieldError[] {
  const { way, rate } = cardFee;
  if (!isRate(rate)) return [wrong("cardFee.rate", "A percentage lies between 0 and 100.")];
  const { ordinary, visitor, committee, classes, kinds, hours } = rates;
  const tiers = [...classes, ...kinds, ...hours].map((one) => one.rate);
  const highest = Math.max(ordinary, visitor ?? 0, committee ?? 0, ...tiers);
  if (way === "guild" || rate === 0 || highest + rate < wholeRate) return [];
  return [
    wrong("cardFee.rate", "With the highest guild percentage this leaves nothing for the member."),
  ];
}

function checkTenders({ payout: { tenders } }: Policy): FieldError[] {
  const errors = repeated(tenders.map(({ method }) => method)).map((index) =>
    wrong(`payout.tenders.${index}.method`, "This way of paying stands here twice."),
  );
  if (!tenders.some(({ upTo }) => upTo === null))
    errors.push(wrong("payout.tenders", "Choose one way of paying that takes any amount."));
  return errors;
}

/** The places of what stands earlier in the list already. */
const repeated = (names: readonly string[]): number[] =>
  names.flatMap((name, index) => (names.indexOf(name) < index ? [index] : []));

const wrong = (field: string, message: string): FieldError => ({ field, message });
