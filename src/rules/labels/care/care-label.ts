import type { FibreCode } from "../fibres.ts";
import { type Group, groupOf, notTextile } from "../groups.ts";
import type { CareSymbols } from "../label-content.ts";
import type { LabelLine, Language } from "../language.ts";
import type { Pack } from "../pack.ts";
import { addRule, houseRule, type Rule } from "../rule.ts";
import { careWords } from "../words/care.ts";
import type { Finish } from "./adjustments.ts";
import { adviseCare, softenerAdvice } from "./advice.ts";
import { careText } from "./care-text.ts";
import { type CareLevels, type CareStep, isCareLevel, isStronger, stepOrder } from "./levels.ts";
import { careSymbols } from "./symbols.ts";

export interface CareDetails {
  pack: Pack;
  languages?: readonly Language[];
  kind: string;
  fibres: readonly FibreCode[];
  finishes?: readonly Finish[];
  white?: boolean;
  /** What the member chose instead of our advice, step by step. */
  chosen?: Partial<CareLevels>;
  /** The member ticked "I have tested this": only then may a step be harder than advised. */
  tested?: boolean;
}

/** A step the member set otherwise than advised; to be kept with the item. */
export interface CareChoice {
  step: CareStep;
  advised: string;
  chosen: string;
  stronger: boolean;
}

export interface CareLabel {
  levels: CareLevels | null;
  lines: LabelLine[];
  symbols: CareSymbols;
  duty: Rule & { required: boolean; permanent: boolean };
  recorded: { basis: "our-table" | "tested"; choices: CareChoice[] };
  reasons: Rule[];
  refusals: Rule[];
}

/** The care label of a piece: words (the legal text), symbol codes, duty, and what to record. */
export function careLabel(details: CareDetails): CareLabel {
  const { pack, kind, fibres, finishes = [], white = false } = details;
  const group = groupOf(kind);
  const label = blankLabel(pack, group);
  if (notTextile.includes(group)) return label;
  if (fibres.length === 0) {
    addRule(label.refusals, houseRule("Say first which fibres the piece is made of."));
    return label;
  }
  const advice = adviseCare({ group, fibres, finishes, white });
  label.reasons.push(...advice.reasons);
  const choices = choicesOf(details, advice.levels, label.refusals);
  if (label.refusals.length > 0) return label;

  const levels = { ...advice.levels };
  for (const { step, chosen } of choices) Object.assign(levels, { [step]: chosen });
  const softener = softenerAdvice(group, levels);
  if (softener) addRule(label.reasons, softener);
  const says = softener ? [...advice.says, "skip-softener" as const] : advice.says;
  addRule(label.reasons, pack.care);
  return {
    ...label,
    levels,
    lines: (details.languages ?? pack.languages).map((language) => ({
      text: careText(levels, advice.notes, says, careWords[language]),
      languages: [language],
    })),
    symbols: { set: pack.care.symbols, codes: careSymbols(levels, pack.care.symbols) },
    recorded: {
      basis: choices.some(({ stronger }) => stronger) ? "tested" : "our-table",
      choices,
    },
  };
}

function blankLabel({ care }: Pack, group: Group): CareLabel {
  return {
    levels: null,
    lines: [],
    symbols: { set: care.symbols, codes: [] },
    duty: {
      words: care.words,
      source: care.source,
      required: care.required.includes(group),
      permanent: care.permanent.includes(group),
    },
    recorded: { basis: "our-table", choices: [] },
    reasons: [],
    refusals: [],
  };
}

/** Gentler is always free to choose; harder only for a member who has tested it. */
function choicesOf(
  { chosen = {}, tested = false, pack }: CareDetails,
  advised: CareLevels,
  refusals: Rule[],
): CareChoice[] {
  const choices = stepOrder.flatMap((step) => {
    const level = chosen[step];
    if (level === undefined || level === advised[step]) return [];
    if (!isCareLevel(step, level)) throw new RangeError(`Not a care level: ${step} ${level}`);
    const stronger = isStronger(step, advised[step], level);
    return [{ step, advised: advised[step], chosen: level, stronger }];
  });
  if (!tested && choices.some(({ stronger }) => stronger)) addRule(refusals, pack.care.basis);
  return choices;
}
