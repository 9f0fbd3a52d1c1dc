import { fill } from "../language.ts";
import type { CareSaying } from "./adjustments.ts";
import type { CareNote } from "./fibre-care.ts";
import type { CareLevels } from "./levels.ts";
import type { CareWords } from "./words.ts";

const ironNotes = ["damp", "reverse-side", "press-cloth"] as const;
const washNotes = ["no-wringing", "separately"] as const;

/** The legal text of a care label, in the order wash, bleach, dry, iron, professional care. */
export function careText(
  levels: CareLevels,
  notes: readonly CareNote[],
  says: readonly CareSaying[],
  words: CareWords,
): string {
  const sayings = says.map((saying) => words.says[saying]);
  const professional = words.professional[levels.professional];
  // A piece that bears neither washing nor cleaning says so first and needs no further steps.
  if (levels.wash === "none" && levels.professional === "none")
    return [professional.alone, ...sayings].join(" ");
  const how = ironNotes.filter((note) => notes.includes(note)).map((note) => words.how[note]);
  const iron = fill(words.iron[levels.iron], { how: how.join("") });
  if (levels.wash === "none")
    return [words.wash.none, professional.alone, iron, ...sayings].filter(Boolean).join(" ");
  return [
    words.wash[levels.wash],
    ...washNotes.filter((note) => notes.includes(note)).map((note) => words.washNotes[note]),
    words.bleach[levels.bleach],
    words.dry[levels.dry],
    iron,
    saysProfessional(levels) ? professional.beside : "",
    ...sayings,
  ]
    .filter(Boolean)
    .join(" ");
}

/** One safe method is enough (16 CFR 423.6(b)): cleaning is named beside hand washing, or to warn. */
const saysProfessional = ({ wash, professional }: CareLevels) =>
  wash === "hand-30" || professional !== "P";
