import { type Fraction, fraction } from "../fraction.ts";
import type { PriceRules } from "../sale-rules.ts";
import type { Cuts } from "./cuts.ts";
import type { Needs } from "./price-for.ts";

/** All that a page needs to go on working out prices by itself, by the same rules. */
export interface SliderScene extends Omit<Cuts, "rate"> {
  needs: Needs;
  prices: PriceRules;
  locale: string;
}

type Packed = Omit<SliderScene, "needs"> & { needs: Record<keyof Needs, [string, string]> };

/** As one text for an attribute of the page; whole numbers beyond JSON's go as texts. */
export function packScene({ needs: { cost, minutes, labour }, ...rest }: SliderScene): string {
  const needs = { cost: pair(cost), minutes: pair(minutes), labour: pair(labour) };
  return JSON.stringify({ ...rest, needs } satisfies Packed);
}

export function unpackScene(text: string): SliderScene {
  const { needs, ...rest } = JSON.parse(text) as Packed;
  const { cost, minutes, labour } = needs;
  return { ...rest, needs: { cost: of(cost), minutes: of(minutes), labour: of(labour) } };
}

const pair = ({ top, bottom }: Fraction): [string, string] => [String(top), String(bottom)];
const of = ([top, bottom]: [string, string]): Fraction => fraction(BigInt(top), BigInt(bottom));
