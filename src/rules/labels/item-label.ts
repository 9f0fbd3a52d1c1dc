import type { FieldError } from "../problem.ts";
import { type CareLabel, careLabel } from "./care/care-label.ts";
import { type CautionVerdict, cautionsFor, checkAnswers } from "./cautions/cautions.ts";
import type { YarnOrigin } from "./details.ts";
import { fibreLabel } from "./fibre-label.ts";
import { groupOf, notTextile } from "./groups.ts";
import { identityLines } from "./identity.ts";
import type { CareSymbols } from "./label-content.ts";
import { contentsOf, fibresIn, holdsReclaimed, type LabelledItem } from "./label-contents.ts";
import type { LabelSetting } from "./label-setting.ts";
import type { LabelLine } from "./language.ts";
import { type MaterialOrigin, type Origin, originLines } from "./origin.ts";
import type { Rule } from "./rule.ts";
import { checkTitle } from "./title-check.ts";

export const topics = ["fibre", "care", "caution", "origin", "identity", "title"] as const;
export type Topic = (typeof topics)[number];
export type ToldRule = Rule & { about: Topic };

/** Whether the law asks for a part of the label, and which rule says so. */
type Duty = Rule & { required: boolean };

/** Everything a label says about one item, and why. What is refused has no fibre lines. */
export interface ItemLabel {
  fibre: { lines: LabelLine[]; duty: Duty };
  care: {
    lines: LabelLine[];
    symbols: CareSymbols;
    duty: Duty & { permanent: boolean };
    recorded: CareLabel["recorded"];
  };
  caution: Omit<CautionVerdict, "reasons">;
  origin: LabelLine[];
  identity: string[];
  reasons: ToldRule[];
  /** Worth a look, and no hindrance. */
  warnings: ToldRule[];
  /** What cannot lawfully be said, by the field to change. */
  refusals: (ToldRule & { field: string })[];
}

const materials: Record<YarnOrigin, readonly MaterialOrigin[]> = {
  "": [],
  domestic: ["domestic"],
  imported: ["imported"],
  mixed: ["domestic", "imported"],
  unknown: ["unknown"],
};

/** Works out the whole label of an item for one guild and member. */
export function itemLabel(item: LabelledItem, setting: LabelSetting): ItemLabel {
  const { pack, languages } = setting;
  const { label, kind } = item;
  const codes = fibresIn(item);
  const { contents } = contentsOf(item, pack, languages);
  const fibre = fibreLabel(contents);
  const care = safeCare(item, setting);
  const { reasons: cautionReasons, ...caution } = cautionsFor({
    ...{ kind, languages, answers: label.answers, fibres: codes },
    ...(label.cloth ? { cloth: label.cloth } : {}),
  });
  const origin = originOf(item, setting);
  const identity = identityLines(setting.maker, pack);
  const title = checkTitle(item.title, codes, pack, {
    fullContentBeside: fibre.lines.length > 0,
    reclaimed: holdsReclaimed(item),
  });
  const fibreField = label.yarns.length > 0 ? "label.yarns" : "fibres";
  return {
    fibre: { lines: fibre.lines, duty: fibre.duty },
    care: {
      ...{ lines: care.lines, symbols: care.symbols, duty: care.duty },
      recorded: care.recorded,
    },
    caution,
    origin: origin.lines,
    identity: identity.lines,
    reasons: [
      ...about("fibre", fibre.reasons),
      ...about("care", care.reasons),
      ...about("caution", cautionReasons),
      ...about("origin", origin.lines.length > 0 ? origin.reasons : []),
      ...about("identity", identity.reasons),
    ],
    warnings: [
      ...about("fibre", fibre.warnings),
      ...about("origin", origin.warnings),
      ...about("identity", identity.refusals),
      ...about("title", title.warnings),
    ],
    refusals: [
      ...about("fibre", fibre.refusals).map((rule) => ({ ...rule, field: fibreField })),
      ...about("care", care.refusals).map((rule) => ({ ...rule, field: "label.care.tested" })),
    ],
  };
}

/** The textile laws ask after the yarn of textiles: of soap nobody is asked for it. */
function originOf({ kind, label }: LabelledItem, { pack }: LabelSetting): Origin {
  const group = groupOf(kind);
  if (notTextile.includes(group)) return { lines: [], reasons: [], warnings: [] };
  const { craft, materials: yarn, madeAbroadIn } = label.origin;
  const made = craft || (group === "yarn" ? "spun" : "woven");
  return originLines({ craft: made, materials: materials[yarn], madeAbroadIn }, pack);
}

const about = (topic: Topic, rules: readonly Rule[]): ToldRule[] =>
  rules.map((rule) => ({ ...rule, about: topic }));

/**
 * The care label; where a choice is refused, its words are those we advise and never the harder
 * ones, so that an entry from before the rule still prints care that is safe.
 */
function safeCare(item: LabelledItem, { pack, languages }: LabelSetting): CareLabel {
  const { finishes, white, care } = item.label;
  const fibres = fibresIn(item);
  const details = { pack, languages, kind: item.kind, fibres, finishes, white };
  if (fibres.length === 0) return { ...careLabel(details), refusals: [] };
  const wanted = careLabel({ ...details, chosen: care.chosen, tested: care.tested });
  if (wanted.refusals.length === 0) return wanted;
  const { lines, symbols } = careLabel(details);
  return { ...wanted, lines, symbols };
}

/** What has to be put right before an item can be entered, each with the rule and its source. */
export function labelErrors(item: LabelledItem, setting: LabelSetting): FieldError[] {
  const { errors } = contentsOf(item, setting.pack, setting.languages);
  const answers = checkAnswers(item.kind, item.label.answers, "label.answers");
  if (errors.length + answers.length > 0) return [...errors, ...answers];
  return itemLabel(item, setting).refusals.map(({ field, words, source }) => ({
    field,
    message: source === "House rule" ? words : `${words} (${source})`,
  }));
}
