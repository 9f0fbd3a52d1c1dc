import type { Component } from "./components.ts";
import type { FibreContents } from "./contents.ts";
import type { FibreRules } from "./pack.ts";
import { addRule, type Rule } from "./rule.ts";

/** What the rules say while a label is being made. */
export interface Verdict {
  reasons: Rule[];
  warnings: Rule[];
  refusals: Rule[];
}

const wholePercent = 100_000n;

const reaches = (component: Component, total: bigint, line: number) =>
  component.weight * wholePercent >= total * BigInt(line);

/**
 * Puts fibres under the line into one "other" component where the law wants or allows it. The line
 * is tested on exact weights: 4.6 % stays unnamed although it prints as 5. Unknown fibres are
 * never lumped, because they may hide wool.
 */
export function lumpSmallFibres(
  components: readonly Component[],
  rules: FibreRules,
  choice: FibreContents["smallFibres"],
  verdict: Verdict,
): Component[] {
  const total = components.reduce((sum, { weight }) => sum + weight, 0n);
  const lumping = rules.small.way === "lumped" || choice === "lumped";
  const stays = (component: Component): boolean => {
    if (component.place === "unknown") return true;
    if (component.place === "other") return false;
    if (isAlwaysNamed(component, rules)) {
      if (!reaches(component, total, rules.line)) addRule(verdict.reasons, rules.alwaysNamed);
      return true;
    }
    if (!lumping || reaches(component, total, rules.line)) return true;
    if (!component.functional || !rules.functional) return false;
    addRule(verdict.reasons, rules.functional);
    return true;
  };
  const named = components.filter(stays);
  const small = components.filter((component) => !named.includes(component));
  if (small.length === 0) return named;
  addRule(verdict.reasons, rules.small);
  checkLumps(small, total, rules, verdict);
  if (named.length === 0)
    addRule(verdict.refusals, {
      ...rules.small,
      words: "No fibre reaches the share from which it is named. Choose scraps or unknown fibres.",
    });
  return [...named, lumpOf(small)];
}

const isAlwaysNamed = ({ codes }: Component, rules: FibreRules) =>
  codes.some((code) => rules.alwaysNamed.fibres.includes(code));

function lumpOf(small: readonly Component[]): Component {
  return {
    codes: small.flatMap(({ codes }) => codes.slice(0, 1)),
    weight: small.reduce((sum, { weight }) => sum + weight, 0n),
    brand: "",
    bamboo: false,
    reclaimed: false,
    functional: false,
    place: "other",
  };
}

/** Refuses an "other" that is too large to be only small fibres. */
function checkLumps(
  small: readonly Component[],
  total: bigint,
  rules: FibreRules,
  verdict: Verdict,
): void {
  const tooLarge = small.some((component) => reaches(component, total, rules.line));
  const { small: rule } = rules;
  if (rule.way !== "named") {
    if (tooLarge)
      addRule(verdict.refusals, {
        ...rule,
        words:
          'An "other fibre" of 5% or more has to be named. Name the fibres, or choose unknown fibres.',
      });
    return;
  }
  const lump = lumpOf(small);
  const overEach = small.some(({ weight }) => weight * wholePercent > total * BigInt(rule.each));
  const overAll = lump.weight * wholePercent > total * BigInt(rule.together);
  if (overEach && overAll) addRule(verdict.refusals, rule);
  else addRule(verdict.warnings, rule);
}
