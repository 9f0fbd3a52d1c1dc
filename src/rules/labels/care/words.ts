import type { CareSaying } from "./adjustments.ts";
import type { CareNote } from "./fibre-care.ts";
import type { CareLevel } from "./levels.ts";

/** The sentences of one language. An empty sentence is left out. */
export interface CareWords {
  wash: Record<CareLevel<"wash">, string>;
  bleach: Record<CareLevel<"bleach">, string>;
  dry: Record<CareLevel<"dry">, string>;
  /** {how} is filled with the notes for ironing, each with a space before it. */
  iron: Record<CareLevel<"iron">, string>;
  how: Record<Extract<CareNote, "damp" | "reverse-side" | "press-cloth">, string>;
  washNotes: Record<Extract<CareNote, "no-wringing" | "separately">, string>;
  /** Beside washing, and where the piece cannot be washed. */
  professional: Record<CareLevel<"professional">, { beside: string; alone: string }>;
  says: Record<CareSaying, string>;
}
