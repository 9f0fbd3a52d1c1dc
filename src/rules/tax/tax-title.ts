import { rateText } from "../currency.ts";
import type { Rate } from "../money.ts";

/** "Sales tax 8.25 %", with the rate once also where the guild has put it into the name. */
export function taxTitle({ name, rate }: { name: string; rate: Rate }): string {
  const text = rateText(rate);
  return name.split(/[^\d.]+/).includes(text) ? name : `${name} ${text} %`;
}
