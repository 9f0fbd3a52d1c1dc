import type { Finish } from "../../rules/labels/care/adjustments.ts";
import type { CareLevel, CareStep } from "../../rules/labels/care/levels.ts";
import type { Role, Section } from "../../rules/labels/contents.ts";
import type { YarnOrigin } from "../../rules/labels/details.ts";
import type { Craft } from "../../rules/labels/pack.ts";
import type { YarnSystem } from "../../rules/weave/yarn-number.ts";

/** A table of words as the options of a list. */
export const optionsFrom = (words: Readonly<Record<string, string>>) =>
  Object.entries(words).map(([value, label]) => ({ value, label }));

export const roleLabels: Record<Role, string> = {
  functional: "Does something in a small amount, such as elastic yarn in a cuff",
  ornament: "Ornament that makes a visible pattern",
  decoration: "Trim or inlay",
  elastic: "Elastic part of the cloth",
  antistatic: "Only against static",
};

export const sectionLabels: Record<Section, string> = {
  body: "Body",
  fringe: "Fringe",
  lining: "Lining",
  shell: "Shell",
  filling: "Filling",
  pile: "Pile",
  back: "Back",
  "outer-surface": "Outer surface of a rug",
};

export const finishLabels: Record<Finish, string> = {
  fulled: "Fulled",
  "pre-washed": "Washed before the sale",
  "not-washed-yet": "Not washed yet",
  "hand-dyed": "Strong hand-dyed colour",
  painted: "Painted warp or yarn",
  metallic: "Metallic thread",
  beads: "Beads",
  lined: "Lined",
};

export const craftLabels: Record<Craft, string> = {
  woven: "Woven",
  knitted: "Knitted",
  felted: "Felted",
  spun: "Spun",
  sewn: "Sewn from bought cloth",
};

export const originLabels: Record<Exclude<YarnOrigin, "">, string> = {
  domestic: "All of it from this country",
  imported: "All of it from abroad",
  mixed: "Some from here, some from abroad",
  unknown: "I do not know",
};

export const systemLabels: Record<YarnSystem, string> = {
  cotton: "Cotton count, such as 8/2",
  worsted: "Worsted count",
  run: "Woollen run",
  cut: "Woollen cut",
  lea: "Linen lea",
  metric: "Metric (Nm)",
  tex: "Tex",
  dtex: "Decitex",
  denier: "Denier",
  "yards-per-pound": "Yards in a pound",
  "metres-per-kilogram": "Metres in a kilogram",
};

export const stepLabels: Record<CareStep, string> = {
  wash: "Washing",
  bleach: "Bleach",
  dry: "Drying",
  iron: "Ironing",
  professional: "Dry cleaning",
};

export const careLabels: { [Step in CareStep]: Record<CareLevel<Step>, string> } = {
  wash: {
    none: "Do not wash",
    "hand-30": "By hand, cold",
    "very-gentle-30": "Machine, cold, very gentle",
    "gentle-30": "Machine, cold, gentle",
    "gentle-40": "Machine, warm, gentle",
    "machine-40": "Machine, warm",
    "machine-60": "Machine, hot",
  },
  bleach: { none: "No bleach", "non-chlorine": "Only without chlorine", any: "Any bleach" },
  dry: {
    "flat-shade": "Flat, in shade",
    flat: "Flat",
    line: "On a line",
    "tumble-low": "Tumble dry, low",
    "tumble-medium": "Tumble dry, medium",
  },
  iron: { none: "Do not iron", "1": "Cool iron", "2": "Warm iron", "3": "Hot iron" },
  professional: {
    none: "No dry cleaning",
    "F-gentle": "Gently, petroleum solvent only",
    F: "Petroleum solvent only",
    P: "Any usual dry cleaning",
  },
};
