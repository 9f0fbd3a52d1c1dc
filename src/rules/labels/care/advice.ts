import type { FibreCode } from "../fibres.ts";
import type { Group } from "../groups.ts";
import { addRule, type Rule } from "../rule.ts";
import {
  type Adjustment,
  absorbent,
  type CareSaying,
  type Finish,
  finishCare,
  groupCare,
  silkyWearables,
  softenerRule,
  whiteRule,
} from "./adjustments.ts";
import { type CareNote, fibreCare, fibreCareRule, whiteBleachable } from "./fibre-care.ts";
import { type CareLevels, gentlest } from "./levels.ts";

export interface CarePiece {
  group: Group;
  /** Every fibre of every part that cannot be taken off, however little of it. */
  fibres: readonly FibreCode[];
  finishes: readonly Finish[];
  /** White and undyed throughout. */
  white: boolean;
}

/** What we advise before the member has chosen anything. */
export interface CareAdvice {
  levels: CareLevels;
  notes: CareNote[];
  says: CareSaying[];
  reasons: Rule[];
}

const hardest: CareLevels = {
  wash: "machine-60",
  bleach: "any",
  dry: "tumble-medium",
  iron: "3",
  professional: "P",
};

/** The most delicate fibre, then kind and finishes, each step on its own. */
export function adviseCare(piece: CarePiece): CareAdvice {
  const reasons: Rule[] = [];
  addRule(reasons, fibreCareRule);
  let levels = fibreLevels(piece, reasons);
  const says: CareSaying[] = [];
  const adjust = (adjustment: Adjustment | undefined) => {
    if (!adjustment) return;
    levels = gentlest(levels, adjustment.caps);
    if (adjustment.says && !says.includes(adjustment.says)) says.push(adjustment.says);
    addRule(reasons, adjustment.rule);
  };
  adjust(groupCare[piece.group]);
  for (const finish of piece.finishes) adjust(finishCare[finish]);
  return { levels, notes: notesOf(piece.fibres), says, reasons };
}

const colours: readonly Finish[] = ["hand-dyed", "painted"];

function fibreLevels({ group, fibres, finishes, white }: CarePiece, reasons: Rule[]): CareLevels {
  let levels = hardest;
  for (const code of fibres) levels = gentlest(levels, fibreCare[code]);
  // Cloth that is said to be white and hand-dyed at once is taken for dyed: bleach would spoil it.
  const undyed = white && !finishes.some((finish) => colours.includes(finish));
  if (undyed && fibres.every((code) => whiteBleachable.includes(code))) {
    levels = { ...levels, bleach: "any" };
    addRule(reasons, whiteRule);
  }
  const { groups, fibres: silky, caps, dry, rule } = silkyWearables;
  if (!groups.includes(group) || !fibres.every((code) => silky.includes(code))) return levels;
  addRule(reasons, rule);
  return { ...gentlest(levels, caps), dry };
}

function notesOf(fibres: readonly FibreCode[]): CareNote[] {
  const every = fibres.flatMap((code) => fibreCare[code].notes);
  const shared = (note: CareNote) => fibres.every((code) => fibreCare[code].notes.includes(note));
  return [...new Set(every)].filter((note) => note !== "damp" || shared(note));
}

/** Softener is spoken of only where a towel goes into a machine. */
export function softenerAdvice(group: Group, levels: CareLevels): Rule | null {
  const byMachine = levels.wash !== "none" && levels.wash !== "hand-30";
  return absorbent.includes(group) && byMachine ? softenerRule : null;
}
