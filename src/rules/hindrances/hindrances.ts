import { drawers, openTills, unsent } from "./at-the-tills.ts";
import type { Hindrance, HindranceFacts, Money } from "./hindrance.ts";
import { classes, payWishes, policyFaults, shifts } from "./of-members.ts";
import { onFloor, soldTwice, suspense } from "./of-pieces.ts";

/**
 * Everything that stands in the way of a settlement, what must be done first. What would be
 * missing from the figures or make them wrong must be done; what a supplementary settlement can
 * still take up had better be (our choice, no source).
 */
export function hindrancesIn(facts: HindranceFacts, money: Money): Hindrance[] {
  const all = [
    ...unsent(facts),
    ...openTills(facts),
    ...shifts(facts),
    ...classes(facts),
    ...policyFaults(facts),
    ...soldTwice(facts),
    ...suspense(facts, money),
    ...onFloor(facts),
    ...drawers(facts, money),
    ...payWishes(facts),
  ];
  return [...all.filter(({ must }) => must), ...all.filter(({ must }) => !must)];
}
