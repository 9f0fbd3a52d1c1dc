import type { FibreEntry, FibrePart, Role } from "./contents.ts";
import { familyOf } from "./fibres.ts";
import { fill } from "./language.ts";
import type { FibreRules, LabelWords, LeftOutRule } from "./pack.ts";
import { addRule } from "./rule.ts";
import type { Verdict } from "./small-fibres.ts";

/** The fibres that count, and what the label says about those that do not. */
export interface Counted {
  entries: FibreEntry[];
  /** The roles left out, in the order of the law, with their entries. */
  leftOut: { role: Role; entries: FibreEntry[] }[];
}

const wholePercent = 100_000n;
const weightOf = (entries: readonly FibreEntry[]) =>
  entries.reduce((sum, { share }) => sum + BigInt(share), 0n);

/**
 * Leaves ornament, decoration and elastic out of the percentages where the law allows it and the
 * piece stays within the limit. Wool and speciality hair are always counted: a law that names
 * wool at any amount is not stepped round by calling it an ornament.
 */
export function leaveOut(part: FibrePart, rules: FibreRules, verdict: Verdict): Counted {
  let entries = [...part.fibres];
  const leftOut: Counted["leftOut"] = [];
  for (const [role, rule] of Object.entries(rules.leftOut) as [Role, LeftOutRule][]) {
    const inRole = entries.filter((one) => one.role === role && familyOf(one.fibre) !== "wool");
    const rest = entries.filter((entry) => !inRole.includes(entry));
    if (inRole.length === 0 || rest.length === 0) continue;
    if (rule.of === "area" && part.area === undefined) {
      addRule(verdict.refusals, {
        ...rule,
        words: `Say how much of the surface the ${role} covers. ${rule.words}`,
      });
      continue;
    }
    if (!isWithin(rule, weightOf(inRole), weightOf(rest), part.area)) continue;
    addRule(verdict.reasons, rule);
    leftOut.push({ role, entries: inRole });
    entries = rest;
  }
  return { entries, leftOut };
}

function isWithin(rule: LeftOutRule, weight: bigint, rest: bigint, area = 0): boolean {
  if (rule.of === "area") return area <= rule.limit;
  const measure = rule.of === "rest" ? rest : rest + weight;
  return weight * wholePercent <= measure * BigInt(rule.limit);
}

/** "Exclusive of Ornamentation", or empty for what the law lets go unsaid. */
export function leftOutWords(
  { role, entries }: Counted["leftOut"][number],
  counted: readonly FibreEntry[],
  words: LabelWords,
  nameOrnament: boolean,
): string {
  const short = words.leftOut[role] ?? "";
  const codes = new Set(entries.map(({ fibre }) => fibre));
  if (!short || role !== "ornament" || !nameOrnament || codes.size !== 1) return short;
  // 16 CFR 300.16 takes the ornament's share of the other fibres' weight: 4 to 96 is 4.17, so 4.
  const rest = weightOf(counted);
  const percent = (weightOf(entries) * 200n + rest) / (rest * 2n);
  if (percent === 0n) return short;
  const name = words.names[[...codes][0]!];
  return fill(words.ornamentNamed, { number: String(percent), name });
}
