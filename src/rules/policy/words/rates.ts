import { rateText } from "../../currency.ts";
import type { Rate } from "../../money.ts";
import { guildRateOf, type RatePolicy, type RateReason, type Seller } from "../guild-rate.ts";
import { groundWords } from "../rate-words.ts";
import type { PolicySection } from "./section.ts";

/** Who pays which percentage, in the order in which the grounds are looked at. */
export function ratesSection(rates: RatePolicy): PolicySection {
  const { visitor, committee, classes, kinds } = rates;
  const grounds = [
    ...kinds.map(({ name, rate, visitorsToo }) => {
      const also = visitor === null || visitorsToo ? "whoever sells it" : "but not from visitors";
      return `${name}: ${rateText(rate)} %, ${also}.`;
    }),
    ...own("visitor", visitor),
    ...own("committee", committee),
    ...classes.map(({ name, rate }) => told({ why: "class", name, rate })),
  ];
  const steps = stepsOf(rates).map(told);
  const order =
    grounds.length === 0
      ? []
      : ["Where several of these fit, the one that stands first here holds."];
  const first =
    grounds.length === 0 && steps.length === 1
      ? [`The guild keeps ${rateText(rates.ordinary)} % of the price of each piece.`]
      : [...grounds, ...steps, ...order];
  return {
    title: "The guild's percentage",
    sentences: [...first, "What is given to the guild is all the guild's."],
  };
}

const own = (why: "visitor" | "committee", rate: Rate | null): string[] =>
  rate === null ? [] : [told({ why, rate })];

/** The reasons that hours alone give, from no work at all to the last step. */
function stepsOf({ ordinary, hours }: RatePolicy): RateReason[] {
  const alone = { ordinary, hours, visitor: null, committee: null, classes: [], kinds: [] };
  return [0, ...hours.map(({ fromMinutes }) => fromMinutes)].map(
    (minutesWorked) =>
      guildRateOf(alone, { ...nobodySpecial, minutesWorked }, { kind: "", donated: false }).reason,
  );
}

/** A member about whom nothing is known that would change the percentage. */
export const nobodySpecial: Seller = {
  ...{ visitor: false, committee: false },
  ...{ classCode: null, minutesWorked: 0 },
};

function told(reason: RateReason): string {
  const ground = groundWords(reason);
  return `${ground.charAt(0).toUpperCase()}${ground.slice(1)}: ${rateText(reason.rate)} %.`;
}
