import type { FibreCode } from "../fibres.ts";
import type { Rule } from "../rule.ts";
import type { CareLevels } from "./levels.ts";

/** What has to be said beside a step. "damp" is said only when every fibre wants it. */
export type CareNote = "no-wringing" | "separately" | "damp" | "reverse-side" | "press-cloth";

export interface FibreCare extends CareLevels {
  notes: readonly CareNote[];
}

export const fibreCareRule: Rule = {
  words:
    "The most delicate fibre decides each step, at any share. The defaults are for hand-woven, dyed, untested cloth.",
  source: "Textile-handbook practice; parts that cannot be removed count: ASTM D3136 1.10",
  fromMemory: true,
};

const row = (
  wash: CareLevels["wash"],
  bleach: CareLevels["bleach"],
  dry: CareLevels["dry"],
  iron: CareLevels["iron"],
  professional: CareLevels["professional"],
  ...notes: CareNote[]
): FibreCare => ({ wash, bleach, dry, iron, professional, notes });

const mild = "non-chlorine";
const cotton = row("machine-40", mild, "tumble-medium", "3", "P");
const linen = row("machine-40", mild, "tumble-low", "3", "P", "damp");
const ramie = row("gentle-30", mild, "line", "2", "P", "no-wringing");
const wool = row("hand-30", "none", "flat", "2", "P", "press-cloth");
const fineHair = row("hand-30", "none", "flat", "1", "P", "press-cloth");
const rayon = row("hand-30", mild, "line", "2", "P", "no-wringing", "reverse-side");
const lyocell = row("gentle-30", mild, "line", "2", "P");
const nylon = row("gentle-40", mild, "tumble-low", "1", "P");
// Used again or loosely woven, acrylic gains nothing from strong solvents: gentle, hydrocarbon only.
const acrylic = row("gentle-30", mild, "tumble-low", "1", "F-gentle");
const acetate = row("hand-30", "none", "line", "1", "P", "no-wringing");
const unknown = row("hand-30", "none", "flat-shade", "none", "none", "separately");

/** Defaults per fibre; jute, olefin, rubber and the hair of other animals from memory as well. */
export const fibreCare: Record<FibreCode, FibreCare> = {
  cotton,
  linen,
  hemp: linen,
  ramie,
  jute: row("hand-30", "none", "flat", "2", "none", "no-wringing"),
  silk: row("hand-30", "none", "flat-shade", "1", "P", "reverse-side"),
  wool,
  "superwash-wool": row("very-gentle-30", "none", "flat", "2", "P"),
  "recycled-wool": wool,
  mohair: fineHair,
  cashmere: fineHair,
  alpaca: fineHair,
  camel: fineHair,
  llama: fineHair,
  vicuna: fineHair,
  "angora-rabbit": fineHair,
  yak: fineHair,
  "musk-ox": fineHair,
  bison: fineHair,
  possum: fineHair,
  rayon,
  viscose: rayon,
  "bamboo-rayon": rayon,
  modal: lyocell,
  lyocell,
  acetate,
  acrylic,
  modacrylic: { ...acrylic, iron: "none" },
  nylon,
  polyester: nylon,
  olefin: row("gentle-30", mild, "line", "none", "F-gentle"),
  spandex: row("gentle-40", mild, "line", "1", "P"),
  rubber: row("hand-30", "none", "line", "none", "none"),
  metallic: row("hand-30", "none", "flat", "none", "none"),
  other: unknown,
  unknown,
  "unknown-reclaimed": unknown,
  scraps: unknown,
};

/** Fibres for which "any bleach" may be said when the piece is white and undyed. */
export const whiteBleachable: readonly FibreCode[] = ["cotton"];
