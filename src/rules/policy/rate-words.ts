import { rateText } from "../currency.ts";
import type { RateAnswer, RateReason } from "./guild-rate.ts";

/** "20 %: 2 to 6 hours of work": a rate and its ground, for statements and previews. */
export const rateWords = (reason: RateReason): string =>
  `${rateText(reason.rate)} %: ${groundWords(reason)}`;

/** The rate that holds, then those that would have held without it, a line each. */
export const rateAnswerWords = ({ reason, passedOver }: RateAnswer): string[] => [
  rateWords(reason),
  ...passedOver.map((other) => `Not used: ${rateWords(other)}`),
];

export function groundWords(reason: RateReason): string {
  switch (reason.why) {
    case "donated":
      return "given to the guild";
    case "kind":
      return `the rate for ${reason.name}`;
    case "visitor":
      return "sold by a visitor";
    case "committee":
      return "on the committee";
    case "class":
      return reason.name;
    case "hours":
      return hoursWords(reason.fromMinutes, reason.toMinutes);
    case "ordinary":
      return "the rate for everyone";
  }
}

function hoursWords(from: number, to: number | null): string {
  if (to === null) return `${lengthWords(from)} of work or more`;
  if (from === 0) return `under ${lengthWords(to)} of work`;
  const whole = from % 60 === 0 && to % 60 === 0;
  return `${whole ? from / 60 : lengthWords(from)} to ${lengthWords(to)} of work`;
}

/** "2 hours 30 minutes": a length of time from whole minutes. */
export function lengthWords(minutes: number): string {
  const rest = minutes % 60;
  const hours = (minutes - rest) / 60;
  const parts = [];
  if (hours > 0) parts.push(hours === 1 ? "1 hour" : `${hours} hours`);
  if (rest > 0) parts.push(rest === 1 ? "1 minute" : `${rest} minutes`);
  return parts.join(" ");
}
