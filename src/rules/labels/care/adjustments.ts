import type { FibreCode } from "../fibres.ts";
import type { Group } from "../groups.ts";
import { houseRule, type Rule } from "../rule.ts";
import type { CareLevels } from "./levels.ts";

export const finishes = [
  "fulled",
  "pre-washed",
  "not-washed-yet",
  "hand-dyed",
  "painted",
  "metallic",
  "beads",
  "lined",
] as const;

export type Finish = (typeof finishes)[number];

/** A sentence that stands after the five steps. */
export type CareSaying = "colour-runs" | "skip-softener" | "may-shrink" | "dust" | "shake-out";

export interface Adjustment {
  /** No step may be harder than these. */
  caps: Partial<CareLevels>;
  says?: CareSaying;
  rule: Rule;
}

const commonPractice = (words: string): Rule => ({ words, source: "Common practice, no source" });

const dyed: Adjustment = {
  caps: { wash: "gentle-30" },
  says: "colour-runs",
  rule: {
    words: "Strong hand-dyed colour may run: wash cool, and alone at first.",
    source: "16 CFR 423.6(b), warnings; the cap at 30 degrees is a house rule",
    fromMemory: true,
  },
};

export const finishCare: Record<Finish, Adjustment> = {
  fulled: {
    caps: { wash: "hand-30", dry: "flat" },
    rule: commonPractice("Fulled cloth felts further when it is moved about in the wash."),
  },
  "pre-washed": {
    caps: {},
    rule: commonPractice("It was washed before the sale, so it has done most of its shrinking."),
  },
  "not-washed-yet": {
    caps: {},
    says: "may-shrink",
    rule: commonPractice("Hand-woven cloth shrinks most in its first wash."),
  },
  "hand-dyed": dyed,
  painted: dyed,
  metallic: {
    caps: { wash: "hand-30", bleach: "none", dry: "flat", iron: "none", professional: "none" },
    rule: commonPractice("Metallic thread melts or breaks in heat and solvent, however little."),
  },
  beads: {
    caps: { wash: "hand-30", bleach: "none", dry: "flat", iron: "none", professional: "none" },
    rule: commonPractice("Beads and their thread bear neither heat, solvent nor tumbling."),
  },
  lined: {
    caps: { wash: "gentle-30", dry: "line" },
    rule: commonPractice("A lining may shrink by another amount than the cloth."),
  },
};

const nothing: CareLevels = {
  wash: "none",
  bleach: "none",
  dry: "flat-shade",
  iron: "none",
  professional: "none",
};
const dusted: Adjustment = {
  caps: nothing,
  says: "dust",
  rule: commonPractice("Pieces to hang or wear as ornament are dusted, not washed."),
};
const byHand: Adjustment = {
  caps: { wash: "hand-30", dry: "flat" },
  rule: commonPractice("Pieces with a form or a filling lose it in a machine."),
};

/** What the kind of goods adds to its fibres. */
export const groupCare: Partial<Record<Group, Adjustment>> = {
  rug: {
    caps: { wash: "gentle-30", dry: "flat" },
    says: "shake-out",
    rule: commonPractice("A rug is shaken out first, and dries flat so that it keeps its shape."),
  },
  wall: dusted,
  ornament: dusted,
  jewellery: dusted,
  bag: byHand,
  headwear: byHand,
  footwear: byHand,
  toy: byHand,
  filled: byHand,
  cosy: byHand,
};

/** Absorbent goods: softener leaves a film on them. */
export const absorbent: readonly Group[] = ["towel"];
export const softenerRule: Rule = {
  words: "Softener and dryer sheets leave a film that keeps a towel from drying.",
  source: "Common advice, published by many",
};

/** Wearables of nothing but silk and lyocell hang to dry; their own weight does not stretch them. */
export const silkyWearables: {
  groups: readonly Group[];
  fibres: readonly FibreCode[];
  caps: Partial<CareLevels>;
  dry: CareLevels["dry"];
  rule: Rule;
} = {
  groups: ["apparel", "child-apparel"],
  fibres: ["silk", "lyocell"],
  caps: { wash: "hand-30" },
  dry: "line",
  rule: commonPractice("Silk and lyocell to wear: wash by hand, dry on a line."),
};

export const whiteRule = houseRule("White, undyed cotton bears any bleach.");
